#pragma once
#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace tallyround::json {

using Json = nlohmann::json;

/// What a document may be at most; the error says which limit it passed.
struct Limits {
    std::size_t bytes = std::size_t{256} << 20U;
    std::size_t depth = 64;
};

/// RFC 8259 text to a value. Errors give "line 3, column 14" and what was expected; bytes that are
/// not UTF-8, duplicate-free deep nesting past the limit and trailing text are refused. A UTF-8
/// byte order mark is tolerated.
base::Result<Json> parse(std::string_view bytes, const Limits& limits = {});

/// Thrown inside `read` only, by Field's accessors; never leaves this module.
struct FieldError : std::runtime_error {
    FieldError(std::string pointer, const std::string& message)
        : std::runtime_error(message), where(std::move(pointer)) {}
    std::string where;
};

/// One value of a document together with its JSON Pointer (RFC 6901). Every accessor checks type
/// and range and otherwise raises a FieldError that names the pointer and what was expected.
class Field {
  public:
    Field(const Json& value, std::string pointer) : value_(&value), pointer_(std::move(pointer)) {}

    const Json& value() const { return *value_; }
    const std::string& pointer() const { return pointer_; }
    [[noreturn]] void refuse(const std::string& message) const;

    Field at(std::string_view key) const;                   ///< member of an object, must be there
    std::optional<Field> find(std::string_view key) const;  ///< absent or null gives nothing
    bool is_object() const;
    bool is_array() const;
    bool is_string() const;
    bool is_number() const;

    std::string text(std::size_t max_bytes = 10'000) const;
    bool boolean() const;
    std::int64_t integer(std::int64_t low, std::int64_t high) const;  ///< 3 and 3.0, not 3.5
    double number(double low, double high) const;                     ///< finite, low..high
    std::vector<Field> items(std::size_t max_items = 10'000'000) const;
    /// Members of an object in the document's key order (nlohmann sorts keys by bytes).
    std::vector<std::pair<std::string, Field>> members(std::size_t max_items = 1'000'000) const;

    std::string text_or(std::string_view key, std::string fallback) const;
    bool boolean_or(std::string_view key, bool fallback) const;
    std::int64_t integer_or(std::string_view key, std::int64_t low, std::int64_t high,
                            std::int64_t fallback) const;
    double number_or(std::string_view key, double low, double high, double fallback) const;

  private:
    const Json* value_;
    std::string pointer_;
};

}  // namespace tallyround::json
