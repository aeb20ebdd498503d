#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cards/forms.h"
#include "sheets/sheet.h"

namespace tallyround::sheets {

/// One thing to cut out, as its center prints it.
struct CardFace {
    std::string mark;  ///< "3-07": center 3, card 7; empty on heads
    std::optional<cards::Tier> tier;
    std::string text;  ///< lines
    cards::Picture picture;
};

/// One line of a center's key.
struct KeyRow {
    std::string mark;
    std::string problem;
    std::string answer;
    std::string steps;
    /// "11/7" and the slip's rule.
    std::vector<std::pair<std::string, std::string>> slips;
};

/// Everything that is cut out for one center, and its key.
struct CenterSet {
    cards::Form form = cards::Form::plain;
    std::string task;
    std::vector<CardFace> faces;
    std::vector<std::string> board;  ///< cells, row by row
    int board_side = 0;
    /// A self-check for each tier: "answer: letter" lines and the word they spell.
    struct Code {
        cards::Tier tier = cards::Tier::core;
        std::vector<std::string> rows;
        std::string word;
        std::string first;  ///< mark of its first card
        std::string last;
    };
    std::vector<Code> codes;
    std::vector<KeyRow> key;
    std::vector<const cards::SlipInfo*> slips;  ///< named in the key, each once
};

/// The form in which a center's kind practices.
cards::Form form_of(const CenterBox& center);

/// Made from the center's skill, or the teacher's own cards; without either it has no faces.
CenterSet center_set(const CenterBox& center, const SheetChoices& choices);

}  // namespace tallyround::sheets
