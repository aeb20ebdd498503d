#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "cards/generate.h"

namespace tallyround::cards {

/// What students do with a set of problems. (Common practice, no source.)
enum class Form {
    plain,       ///< one problem a card
    match,       ///< problems and answers on separate pieces
    sort,        ///< problems with an answer: right, or not right
    find_error,  ///< the same on larger pieces, to be mended
    board,       ///< answers on a board: four in a row
    words,       ///< terms and what they mean
    code,        ///< answers give letters that spell a word
};

std::string_view form_id(Form form);  ///< "plain", "match", "sort", "find-error", …
std::optional<Form> find_form(std::string_view id);

/// One thing to cut out.
struct Piece {
    std::string mark;  ///< what the key calls it; empty on heads
    std::string text;  ///< lines, plain text
    Picture picture;
};

struct FormKey {
    std::string mark;
    std::string says;
    std::string partner = {};  ///< mark of the other half, where two pieces belong together
};

/// A set of problems laid out in a form.
struct FormSet {
    Form form = Form::plain;
    std::string task;  ///< what to do, one or two sentences for students
    std::vector<Piece> pieces;
    /// Cells of a board or "answer: letter" rows of a code, row by row; empty otherwise.
    std::vector<std::string> grid;
    int columns = 0;
    std::vector<FormKey> key;
};

/// Lays `cards` out. The same arguments give the same set everywhere. `words` looks at the skill
/// only; the others leave out problems whose answer another one has already, where two equal
/// answers would spoil the form.
FormSet make_form(Form form, std::string_view skill, std::span<const Card> cards,
                  std::uint64_t seed);

}  // namespace tallyround::cards
