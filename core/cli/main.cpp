// The core from a shell: reads arguments and files, hands them to a command, prints what it says.
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <sstream>

#include "cli/cli.h"

namespace {

using tallyround::base::fail;
using tallyround::base::Result;

constexpr std::size_t max_bytes = std::size_t{1} << 30U;

Result<std::string> slurp(std::istream& in) {
    std::string bytes;
    std::string chunk(std::size_t{1} << 20U, '\0');
    while (in.read(chunk.data(), std::ssize(chunk)) || in.gcount() > 0) {
        bytes.append(chunk, 0, static_cast<std::size_t>(in.gcount()));
        if (bytes.size() > max_bytes) return fail("", "More than 1 GiB cannot be read.");
    }
    return bytes;
}

Result<std::string> read_file(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in || in.peek() == std::ifstream::traits_type::eof()) {
        if (!in.is_open() || in.bad()) {
            return fail("", "Cannot be opened: check the name and that it is a file you may read.");
        }
        return std::string();
    }
    return slurp(in);
}

Result<bool> write_file(const std::string& path, std::string_view bytes) {
    std::ofstream out(path, std::ios::binary | std::ios::trunc);
    out.write(bytes.data(), std::ssize(bytes));
    out.close();
    if (!out) return fail("", "Cannot be written: check that the folder exists and has room.");
    return true;
}

Result<bool> make_folder(const std::string& path) {
    std::error_code trouble;
    std::filesystem::create_directories(path, trouble);
    if (!std::filesystem::is_directory(path, trouble))
        return fail("", "The folder cannot be made: check its name and that you may write there.");
    return true;
}

void help(std::ostream& out) {
    out << "usage: tallyround COMMAND ...\n";
    for (const auto& c : tallyround::cli::commands())
        out << "  tallyround " << c.synopsis << "\n";
}

}  // namespace

int main(int argc, char** argv) {
    std::ios::sync_with_stdio(false);
    const std::vector<std::string> words(argv + 1, argv + argc);
    if (words.empty() || words[0] == "--help" || words[0] == "help") {
        help(words.empty() ? std::cerr : std::cout);
        return words.empty() ? 2 : 0;
    }
    const auto start = std::chrono::steady_clock::now();
    tallyround::cli::Invocation call{
        {words.begin() + 1, words.end()},
        [] { return slurp(std::cin); },
        read_file,
        write_file,
        make_folder,
        [start] {
            const auto passed = std::chrono::steady_clock::now() - start;
            return std::chrono::duration<double, std::milli>(passed).count();
        }};
    for (const auto& c : tallyround::cli::commands()) {
        if (c.name != words[0]) continue;
        const auto outcome = c.run(call);
        std::cout << outcome.out << std::flush;
        std::cerr << outcome.err;
        return static_cast<int>(outcome.exit);
    }
    std::cerr << "tallyround: there is no command \"" << words[0] << "\"\n";
    help(std::cerr);
    return 2;
}
