#include "model/mark.h"

namespace tallyround::model {

std::string_view to_text(Level level) {
    switch (level) {
        case Level::secure:
            return "secure";
        case Level::shaky:
            return "shaky";
        case Level::stuck:
            return "stuck";
    }
    return "";
}

std::string_view to_text(Help help) {
    switch (help) {
        case Help::none:
            return "none";
        case Help::hint:
            return "hint";
        case Help::together:
            return "together";
    }
    return "";
}

std::optional<Level> parse_level(std::string_view text) {
    for (const Level l : {Level::secure, Level::shaky, Level::stuck}) {
        if (text == to_text(l)) return l;
    }
    return std::nullopt;
}

std::optional<Help> parse_help(std::string_view text) {
    for (const Help h : {Help::none, Help::hint, Help::together}) {
        if (text == to_text(h)) return h;
    }
    return std::nullopt;
}

}  // namespace tallyround::model
