#include "session/initials.h"

#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"

namespace tallyround::session {

namespace {

std::vector<std::string> words_of(const std::string& name) {
    std::vector<std::string> out;
    std::string word;
    for (const char c : name + " ") {
        if (c != ' ') {
            word += c;
        } else if (!word.empty()) {
            out.push_back(std::move(word));
            word.clear();
        }
    }
    return out;
}

/// `letters` of the first word and one of the last; never a whole first word longer than one.
std::string short_form(const std::string& name, std::size_t letters) {
    const auto words = words_of(name);
    if (words.empty()) return "?";
    const std::size_t whole = base::length(words.front());
    const std::size_t most = whole > 1 ? whole - 1 : 1;
    std::string out = base::first_code_points(words.front(), std::min(letters, most));
    if (words.size() > 1) out += base::first_code_points(words.back(), 1);
    return out;
}

/// Bytes that can be part of a word: letters, digits and everything outside ASCII.
bool in_word(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= 0x80 || std::isalnum(byte) != 0;
}

}  // namespace

std::vector<std::string> initials_of(const model::Class& cls) {
    std::vector<std::string> out;
    std::map<std::string, int> count;
    for (const model::Student& s : cls.students) {
        out.push_back(short_form(s.name, 1));
        ++count[out.back()];
    }
    std::map<std::string, std::vector<std::size_t>> same;
    for (std::size_t i = 0; i < out.size(); ++i) {
        if (count[out[i]] > 1) out[i] = short_form(cls.students[i].name, 2);
        same[out[i]].push_back(i);
    }
    std::set<std::string> taken(out.begin(), out.end());
    for (const auto& [text, places] : same) {
        if (places.size() < 2) continue;
        int number = 0;
        for (const std::size_t i : places) {
            std::string numbered;
            do
                numbered = text + " " + std::to_string(++number);
            while (!taken.insert(numbered).second);
            out[i] = std::move(numbered);
        }
    }
    return out;
}

model::Class with_initials(model::Class cls) {
    const std::vector<std::string> names = initials_of(cls);
    for (std::size_t i = 0; i < names.size(); ++i)
        cls.students[i].name = names[i];
    return cls;
}

std::string hide_names(const model::Class& cls, std::string text) {
    const std::vector<std::string> names = initials_of(cls);
    std::vector<std::size_t> order(names.size());
    for (std::size_t i = 0; i < order.size(); ++i)
        order[i] = i;
    // The longest first: "Ana Lopez" before "Ana".
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const auto& x = cls.students[a].name;
        const auto& y = cls.students[b].name;
        return x.size() != y.size() ? x.size() > y.size() : a < b;
    });
    for (const std::size_t i : order) {
        const std::string& name = cls.students[i].name;
        if (name.empty()) continue;
        for (std::size_t at = text.find(name); at != std::string::npos; at = text.find(name, at)) {
            const std::size_t end = at + name.size();
            const bool inside =
                (at > 0 && in_word(text[at - 1])) || (end < text.size() && in_word(text[end]));
            if (inside) {
                at = end;
                continue;
            }
            text.replace(at, name.size(), names[i]);
            at += names[i].size();
        }
    }
    return text;
}

}  // namespace tallyround::session
