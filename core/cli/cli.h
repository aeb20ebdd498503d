#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "json/reader.h"

namespace tallyround::cli {

/// The four ways a command ends; numbers are the exit codes.
enum class Exit { done = 0, usage = 2, cannot = 3, bad_input = 4 };

/// What a command prints and how it ends. `out` is empty unless done or cannot.
struct Outcome {
    Exit exit = Exit::done;
    std::string out;
    std::string err;
};

/// What a command is given: its arguments (after the command's name) and the outside world.
struct Invocation {
    std::vector<std::string> args;
    std::function<base::Result<std::string>()> read_stdin;
    std::function<base::Result<std::string>(const std::string& path)> read_file;
    std::function<base::Result<bool>(const std::string& path, std::string_view bytes)> write_file;
    /// Makes the folder and those above it, unless they are there.
    std::function<base::Result<bool>(const std::string& path)> make_folder;
    /// Milliseconds of a steady clock, for budgets.
    std::function<double()> steady_ms;
};

struct Command {
    std::string_view name;
    std::string_view synopsis;
    Outcome (*run)(const Invocation&);
};

/// Every command, in the order of the help text.
const std::vector<Command>& commands();

// Outcomes, in the words every command uses.
Outcome done(const json::Json& value);
Outcome done_text(std::string text);
Outcome cannot(const json::Json& why, const std::string& sentence);
Outcome bad_input(const std::string& file, const base::Error& error);
Outcome wrong_usage(std::string_view synopsis);

/// Standard input as JSON, refused with wrong usage if there are arguments.
/// On failure `failure` holds the outcome to return.
std::optional<json::Json> stdin_json(const Invocation& call, std::string_view synopsis,
                                     Outcome& failure);

}  // namespace tallyround::cli
