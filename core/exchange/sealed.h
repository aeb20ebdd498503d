#pragma once
#include <string_view>

namespace tallyround::exchange {

/// What a sealed plan file says it is (its "format"). The envelope is JSON whose first member is
/// "format"; DEVELOPERS.md describes the rest. Only the shell page and tools with a passcode open
/// one.
inline constexpr std::string_view sealed_format = "tallyround-sealed";

/// True for the bytes of a sealed file.
bool is_sealed(std::string_view bytes);

}  // namespace tallyround::exchange
