#pragma once
#include <string>
#include <string_view>

namespace tallyround::exchange {

/// A person's name in parts; `given` and `family` are empty where the text does not tell.
struct PersonName {
    std::string name;
    std::string given;
    std::string family;
};

/// "Given Family"; family name first and without a space when both are in Chinese, Japanese or
/// Korean script; just the one that is there when the other is empty.
PersonName from_parts(std::string_view given, std::string_view family);

/// Tidied; an address in angle brackets ("Ana <a@b.c>") and commas or semicolons at the end are
/// left out, as is the apostrophe that a CSV writer puts before = + - @. With exactly one comma
/// left and `split` it is read as "Family, Given"; "Ana Lee, Jr." keeps its comma.
PersonName from_full(std::string_view text, bool split);

/// A line of a list without its number or bullet: "1. Ana", "2) Ana", "(3) Ana", "#4 Ana",
/// "- Ana", "• Ana" give "Ana". A number without a mark after it stays.
std::string without_list_mark(std::string_view line);

/// True when there is a character that is more than a space, a mark or an invisible sign.
bool has_name(std::string_view text);

/// A generation after the name ("Jr.", "III"), which is no given name.
bool is_name_suffix(std::string_view text);

/// True when an ASCII digit is in it.
bool has_digit(std::string_view text);

/// True for signs that hardly stand in a name and come up when text of another code page is read
/// as Windows-1252 ("Jo†o"), and for the replacement character of a lost letter.
bool looks_misread(std::string_view name);

/// Lower case for comparing: ASCII and Latin-1 letters.
std::string folded(std::string_view text);

}  // namespace tallyround::exchange
