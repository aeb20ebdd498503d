#pragma once
#include <string>

#include "base/random.h"

namespace tallyround::session {

/// A letter that says what it names, then nine of Crockford's base-32 digits (45 random bits),
/// drawn again until `taken` says no.
template <class Id, class Taken>
Id make_id(char prefix, base::Random& entropy, const Taken& taken) {
    static constexpr char digits[] = "0123456789abcdefghjkmnpqrstvwxyz";
    for (;;) {
        std::string text(1, prefix);
        const std::uint64_t bits = entropy.bits();
        for (int i = 0; i < 9; ++i)
            text += digits[(bits >> (5 * i)) & 31U];
        const Id id(text);
        if (!taken(id)) return id;
    }
}

}  // namespace tallyround::session
