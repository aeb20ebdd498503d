#pragma once
#include <string>
#include <string_view>

#include "base/result.h"

namespace tallyround::exchange {

/// How the bytes of a text file stood for characters.
enum class Encoding { utf8, utf16le, utf16be, windows_1252 };

/// "utf-8", "utf-16le", "utf-16be", "windows-1252" (the names of the WHATWG Encoding Standard).
std::string_view name_of(Encoding encoding);

/// A file's text as UTF-8, without a byte order mark.
struct Decoded {
    std::string text;
    Encoding encoding = Encoding::utf8;
};

/// Bytes of a text file to UTF-8. In this order:
///  1. a byte order mark decides: EF BB BF, FF FE or FE FF;
///  2. an even number of bytes among which NUL bytes stand mostly in one half of the pairs is
///     UTF-16 without a mark, if it decodes; where all bytes are ASCII, half of the pairs must have
///     a NUL (a text without a single character below U+0100 is not recognised);
///  3. well-formed UTF-8 is UTF-8;
///  4. everything else is Windows-1252.
/// Errors, with "line N" as the place: a NUL character (not a text file), UTF-16 that stops in
/// the middle or has half a surrogate pair, a UTF-8 mark before bytes that are not UTF-8, and the
/// five bytes that Windows-1252 leaves undefined (81 8D 8F 90 9D; Unicode's CP1252.TXT).
base::Result<Decoded> to_utf8(std::string_view bytes);

}  // namespace tallyround::exchange
