#include "cli/cli.h"

#include <nlohmann/json.hpp>

namespace tallyround::cli {

Outcome done(const json::Json& value) {
    return {Exit::done, value.dump() + "\n", ""};
}

Outcome done_text(std::string text) {
    return {Exit::done, std::move(text), ""};
}

Outcome cannot(const json::Json& why, const std::string& sentence) {
    return {Exit::cannot, why.dump() + "\n", sentence + "\n"};
}

Outcome bad_input(const std::string& file, const base::Error& error) {
    return {Exit::bad_input, "", file + ": " + error.text() + "\n"};
}

Outcome wrong_usage(std::string_view synopsis) {
    return {Exit::usage, "", "usage: tallyround " + std::string(synopsis) + "\n"};
}

std::optional<json::Json> stdin_json(const Invocation& call, std::string_view synopsis,
                                     Outcome& failure) {
    const bool option = !call.args.empty() && call.args.front().starts_with("--");
    if (call.args.size() > 1 || option) {
        failure = wrong_usage(synopsis);
        return std::nullopt;
    }
    // One file name may stand in for standard input.
    const bool from_file = !call.args.empty() && call.args.front() != "-";
    const std::string name = from_file ? call.args.front() : "standard input";
    const auto bytes = from_file ? call.read_file(name) : call.read_stdin();
    if (!bytes) {
        failure = bad_input(name, bytes.error());
        return std::nullopt;
    }
    auto value = json::parse(*bytes);
    if (!value) {
        failure = bad_input(name, value.error());
        return std::nullopt;
    }
    return *std::move(value);
}

}  // namespace tallyround::cli
