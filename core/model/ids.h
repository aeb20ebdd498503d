#pragma once
#include "base/id.h"

namespace tallyround::model {

using ClassId = base::Id<struct ClassTag>;
using StudentId = base::Id<struct StudentTag>;
/// A skill of the bank ("frac-add-unlike") or one of the teacher's own.
using SkillId = base::Id<struct SkillTag>;
using CenterId = base::Id<struct CenterTag>;
/// A picture taken in for cards.
using PictureId = base::Id<struct PictureTag>;
using BlockId = base::Id<struct BlockTag>;
/// One copy of the app on one device.
using ReplicaId = base::Id<struct ReplicaTag>;

}  // namespace tallyround::model
