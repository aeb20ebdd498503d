#include "exchange/sealed.h"

#include <string>

namespace tallyround::exchange {

bool is_sealed(std::string_view bytes) {
    // The beginning alone: white space may stand between its parts, nothing else.
    std::string start;
    for (const char c : bytes.substr(0, 200)) {
        if (c != ' ' && c != '\n' && c != '\r' && c != '\t') start += c;
    }
    if (start.starts_with("\xEF\xBB\xBF")) start.erase(0, 3);
    return start.starts_with(R"({"format":")" + std::string(sealed_format) + "\"");
}

}  // namespace tallyround::exchange
