#include "json/texts.h"

#include <nlohmann/json.hpp>

#include "json/reader.h"

namespace tallyround::json {

Texts read_texts(std::string_view text) {
    Texts texts;
    const auto parsed = parse(text);
    if (!parsed || !parsed->is_object()) return texts;
    for (const auto& [name, value] : parsed->items()) {
        if (value.is_string()) texts[name] = value.get<std::string>();
    }
    return texts;
}

std::string write_texts(const Texts& texts) {
    return Json(texts).dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace tallyround::json
