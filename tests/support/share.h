#pragma once
#include <cstdlib>
#include <string>

namespace tallyround::testing {

/// How many of a long series a run takes: `usual`, or what the environment's variable says (the
/// full run of `tests/run lessons`).
inline int share(const char* variable, int usual) {
    const char* text = std::getenv(variable);
    return text == nullptr ? usual : std::atoi(text);
}

}  // namespace tallyround::testing
