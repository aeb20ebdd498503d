// Any bytes as the JSON that a command reads: the first byte chooses the command. Each must return
// one of its four ends, with something to read for whoever called it.
#include <array>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "base/text.h"
#include "cli/cli.h"

namespace {

using namespace tallyround;

void require(bool holds) {
    if (!holds) std::abort();
}

const cli::Command* find(std::string_view name) {
    for (const cli::Command& c : cli::commands()) {
        if (c.name == name) return &c;
    }
    return nullptr;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static constexpr std::array<std::string_view, 13> names{
        "advise",   "judge", "predict", "trace", "cards",     "fit",   "group",
        "partners", "chart", "check",   "words", "framework", "roster"};
    if (size == 0) return 0;
    const std::size_t which = data[0] % names.size();
    const std::string bytes(reinterpret_cast<const char*>(data) + 1, size - 1);
    double clock = 0;
    cli::Invocation call;
    if (which >= 9) call.args = {"file"};
    call.read_stdin = [&] { return base::Result<std::string>(bytes); };
    call.read_file = [&](const std::string&) { return base::Result<std::string>(bytes); };
    call.write_file = [](const std::string&, std::string_view) { return base::Result<bool>(true); };
    call.make_folder = [](const std::string&) { return base::Result<bool>(true); };
    call.steady_ms = [&] { return clock += 1e7; };  // over at the first look
    const cli::Outcome outcome = find(names[which])->run(call);
    require(base::is_utf8(outcome.out) && base::is_utf8(outcome.err));
    require(outcome.exit == cli::Exit::done || !outcome.err.empty());
    require(outcome.exit != cli::Exit::bad_input || outcome.out.empty());
    return 0;
}
