#pragma once
#include <map>
#include <string>
#include <vector>

#include "cli/cli.h"

namespace tallyround::cli {

inline constexpr std::string_view fit_synopsis = "fit < REQUEST.json";
inline constexpr std::string_view group_synopsis = "group < REQUEST.json";
inline constexpr std::string_view partners_synopsis = "partners < REQUEST.json";
inline constexpr std::string_view chart_synopsis = "chart < REQUEST.json";

Outcome run_fit(const Invocation& call);
Outcome run_group(const Invocation& call);
Outcome run_partners(const Invocation& call);
Outcome run_chart(const Invocation& call);

/// Where the input came from, for error messages.
inline std::string input_name(const Invocation& call) {
    return call.args.empty() || call.args.front() == "-" ? "standard input" : call.args.front();
}

/// "Bo", "Bo or Cy", "Bo, Cy or Di".
std::string any_of(const std::vector<std::string>& names);

/// A list of different names and the number of each.
class Names {
  public:
    /// Reads an array of different, non-empty strings; refuses the second of two equal ones.
    Names(const json::Field& array, const std::string& what, std::size_t limit);

    int size() const { return int(names_.size()); }
    const std::string& operator[](int i) const { return names_[std::size_t(i)]; }
    /// The number of a name, or -1.
    int find(const std::string& name) const;
    /// The number of the name in `field`; refuses a name that is not in the list.
    int of(const json::Field& field) const;
    /// The same for a name that stands as a key at `field`.
    int of_key(const std::string& name, const json::Field& field) const;
    /// An array of at least `least` different names.
    std::vector<int> list_of(const json::Field& array, std::size_t least) const;
    /// The names with these numbers.
    std::vector<std::string> names(const std::vector<int>& numbers) const;
    void add(const std::string& name, const json::Field& field);
    Names() = default;

    std::string what = "name";

  private:
    std::vector<std::string> names_;
    std::map<std::string, int> numbers_;
};

}  // namespace tallyround::cli
