#pragma once
#include "json/reader.h"

namespace tallyround::json {

/// Runs `reader(Field root)` and turns a FieldError into an Error: the one place where the
/// exceptions of this module end.
template <class Reader>
auto read(const Json& root, Reader&& reader) -> base::Result<decltype(reader(Field(root, "")))> {
    try {
        return reader(Field(root, ""));
    } catch (const FieldError& e) {
        return base::fail(e.where.empty() ? "/" : e.where, e.what());
    }
}

}  // namespace tallyround::json
