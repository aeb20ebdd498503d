#pragma once
#include <cstdint>
#include <optional>
#include <string>

#include "json/texts.h"
#include "record/loading.h"
#include "record/recover.h"

namespace tallyround::ui {

/// What storage held, on its way into the session.
struct Opening {
    std::string snapshot;
    std::string records;
    std::uint64_t last_key;
    json::Texts preferences;
    bool read_only;
    record::Recovering recovering{snapshot, records};
    record::Recovered found = {};  ///< without its events once they are loading
    std::optional<record::Loading> loading = {};
};

}  // namespace tallyround::ui
