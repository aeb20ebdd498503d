#include "json/reader.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.h"

namespace tallyround::json {

namespace {

std::string place(std::string_view bytes, std::size_t offset) {
    std::size_t line = 1;
    std::size_t column = 1;
    for (std::size_t i = 0; i < std::min(offset, bytes.size()); ++i) {
        const bool newline = bytes[i] == '\n';
        line += newline ? 1 : 0;
        column = newline ? 1 : column + 1;
    }
    return "line " + std::to_string(line) + ", column " + std::to_string(column);
}

/// Offset where brackets nest deeper than `limit`, or npos. Strings are skipped.
std::size_t too_deep(std::string_view bytes, std::size_t limit) {
    std::size_t depth = 0;
    bool in_string = false;
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        const char c = bytes[i];
        if (in_string) {
            if (c == '\\') ++i;
            if (c == '"') in_string = false;
        } else if (c == '"') {
            in_string = true;
        } else if (c == '[' || c == '{') {
            if (++depth > limit) return i;
        } else if ((c == ']' || c == '}') && depth > 0) {
            --depth;
        }
    }
    return std::string_view::npos;
}

std::string escape(std::string_view key) {
    std::string out;
    for (const char c : key) {
        if (c == '~') {
            out += "~0";
        } else if (c == '/') {
            out += "~1";
        } else {
            out += c;
        }
    }
    return out;
}

std::string range_text(double low, double high) {
    return "a number from " + Json(low).dump() + " to " + Json(high).dump();
}

}  // namespace

base::Result<Json> parse(std::string_view bytes, const Limits& limits) {
    if (bytes.size() > limits.bytes) {
        return base::fail("", "The text is " + std::to_string(bytes.size()) +
                                  " bytes long; at most " + std::to_string(limits.bytes) +
                                  " can be read.");
    }
    if (bytes.starts_with("\xEF\xBB\xBF")) bytes.remove_prefix(3);
    if (const auto at = too_deep(bytes, limits.depth); at != std::string_view::npos) {
        return base::fail(place(bytes, at), "Nested deeper than " + std::to_string(limits.depth) +
                                                " levels; this is not a document of ours.");
    }
    try {
        return Json::parse(bytes);
    } catch (const Json::parse_error& e) {
        const std::size_t at = e.byte > 0 ? e.byte - 1 : 0;
        return base::fail(place(bytes, at), at >= bytes.size()
                                                ? "The JSON text ends too early."
                                                : "This is not valid JSON from here on.");
    } catch (const Json::out_of_range&) {
        return base::fail("", "A number in the text is larger than can be kept (over 1e308).");
    }
}

void Field::refuse(const std::string& message) const {
    throw FieldError(pointer_, message);
}

Field Field::at(std::string_view key) const {
    if (!value_->is_object()) refuse("Expected an object with \"" + std::string(key) + "\".");
    const auto it = value_->find(std::string(key));
    if (it == value_->end()) refuse("\"" + std::string(key) + "\" is missing.");
    return {*it, pointer_ + "/" + escape(key)};
}

std::optional<Field> Field::find(std::string_view key) const {
    if (!value_->is_object()) refuse("Expected an object.");
    const auto it = value_->find(std::string(key));
    if (it == value_->end() || it->is_null()) return std::nullopt;
    return Field(*it, pointer_ + "/" + escape(key));
}

bool Field::is_object() const {
    return value_->is_object();
}
bool Field::is_array() const {
    return value_->is_array();
}
bool Field::is_string() const {
    return value_->is_string();
}
bool Field::is_number() const {
    return value_->is_number();
}

std::string Field::text(std::size_t max_bytes) const {
    if (!value_->is_string()) refuse("Expected text.");
    const auto& s = value_->get_ref<const std::string&>();
    if (s.size() > max_bytes) {
        refuse("The text is " + std::to_string(s.size()) + " bytes long; at most " +
               std::to_string(max_bytes) + " are allowed here.");
    }
    return s;
}

bool Field::boolean() const {
    if (!value_->is_boolean()) refuse("Expected true or false.");
    return value_->get<bool>();
}

std::int64_t Field::integer(std::int64_t low, std::int64_t high) const {
    const std::string expected =
        "Expected a whole number from " + std::to_string(low) + " to " + std::to_string(high) + ".";
    if (value_->is_number_unsigned()) {
        const auto u = value_->get<std::uint64_t>();
        if (high < 0 || u > static_cast<std::uint64_t>(high)) refuse(expected);
    } else if (value_->is_number_float()) {
        const double d = value_->get<double>();
        if (!(std::abs(d) < 9e15) || d != std::floor(d)) refuse(expected);
    } else if (!value_->is_number_integer()) {
        refuse(expected);
    }
    const auto v = value_->is_number_float() ? static_cast<std::int64_t>(value_->get<double>())
                                             : value_->get<std::int64_t>();
    if (v < low || v > high) refuse(expected);
    return v;
}

double Field::number(double low, double high) const {
    if (!value_->is_number()) refuse("Expected " + range_text(low, high) + ".");
    const double d = value_->get<double>();
    if (!std::isfinite(d) || d < low || d > high) refuse("Expected " + range_text(low, high) + ".");
    return d;
}

std::vector<Field> Field::items(std::size_t max_items) const {
    if (!value_->is_array()) refuse("Expected a list.");
    if (value_->size() > max_items) {
        refuse("The list has " + std::to_string(value_->size()) + " entries; at most " +
               std::to_string(max_items) + " are allowed here.");
    }
    std::vector<Field> out;
    out.reserve(value_->size());
    for (std::size_t i = 0; i < value_->size(); ++i) {
        out.emplace_back((*value_)[i], pointer_ + "/" + std::to_string(i));
    }
    return out;
}

std::vector<std::pair<std::string, Field>> Field::members(std::size_t max_items) const {
    if (!value_->is_object()) refuse("Expected an object.");
    if (value_->size() > max_items) {
        refuse("The object has more than " + std::to_string(max_items) + " members.");
    }
    std::vector<std::pair<std::string, Field>> out;
    out.reserve(value_->size());
    for (const auto& [key, value] : value_->items()) {
        out.emplace_back(key, Field(value, pointer_ + "/" + escape(key)));
    }
    return out;
}

std::string Field::text_or(std::string_view key, std::string fallback) const {
    const auto f = find(key);
    return f ? f->text() : std::move(fallback);
}

bool Field::boolean_or(std::string_view key, bool fallback) const {
    const auto f = find(key);
    return f ? f->boolean() : fallback;
}

std::int64_t Field::integer_or(std::string_view key, std::int64_t low, std::int64_t high,
                               std::int64_t fallback) const {
    const auto f = find(key);
    return f ? f->integer(low, high) : fallback;
}

double Field::number_or(std::string_view key, double low, double high, double fallback) const {
    const auto f = find(key);
    return f ? f->number(low, high) : fallback;
}

}  // namespace tallyround::json
