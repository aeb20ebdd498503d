#pragma once
#include <string>
#include <tl/expected.hpp>
#include <utility>

namespace tallyround::base {

/// Why something that came from outside (text, a file, a finger) could not be used.
/// `where` is a place a person can find: "row 3", "/marks/4/level", "Round minutes"; may be empty.
/// `message` says what is wrong and what to do, as one or two plain sentences.
struct Error {
    std::string where;
    std::string message;

    /// "where: message", or just the message without a place.
    std::string text() const { return where.empty() ? message : where + ": " + message; }
    friend bool operator==(const Error&, const Error&) = default;
};

/// A value, or why there is none. Never throws on the paths that outside text takes.
template <class T>
using Result = tl::expected<T, Error>;

inline tl::unexpected<Error> fail(std::string where, std::string message) {
    return tl::make_unexpected(Error{std::move(where), std::move(message)});
}

}  // namespace tallyround::base
