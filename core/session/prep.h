#pragma once
#include "model/state.h"
#include "sheets/prep_box.h"

namespace tallyround::session {

/// Rounds that the chart has.
std::size_t round_count(const model::Block& block);

/// The center's number on signs and in the chart: its place among the open ones, from 1; 0 for a
/// center that is closed or not there.
int center_number(const model::Block& block, const model::CenterId& id);

/// Everything that the sheets of a block say, from the record.
sheets::PrepBox prep_box(const model::Class& cls, const model::Block& block);

/// Where a printer of that class finds its pictures. The class must outlive it.
sheets::PictureSource pictures_of(const model::Class& cls);

}  // namespace tallyround::session
