#pragma once
#include "ui/effects.h"

namespace tallyround::shell {

/// Has the page do what the app asks for, in order.
void carry_out(const ui::Effects& effects);

}  // namespace tallyround::shell
