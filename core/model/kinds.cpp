#include "model/kinds.h"

#include <array>

namespace tallyround::model {

// Common practice, no source: eight kinds that cover what review stations do in grades 5 to 8.
// Whiteboards stay at the teacher center so that they are worth the walk there.
static constexpr std::array<CenterKind, 8> kinds{{
    {"teacher", "Teacher center", "You work with the group: see every step and help at once.",
     "Sit where you can see the board.\nTry the problem on your whiteboard.\nHold it up and say "
     "how you know.",
     "4 whiteboards\n4 dry-erase pens\n1 cloth", "Wipe the boards.\nCap the pens.", false, true},
    {"cards", "Task cards", "Plain practice of one skill, with an answer key to check.",
     "Take one card each.\nWork it out in your notebook.\nCheck with the key, then explain one "
     "card to a partner.",
     "1 set of task cards\n1 answer key", "Cards in order, face up.\nKey face down.", false, false},
    {"match", "Match and sort", "Put cards that belong together side by side: forms, steps, terms.",
     "Spread the cards out.\nMatch them, saying why.\nWhen all agree, check with the key.",
     "1 set of sorting cards\n1 answer key", "Shuffle the cards.\nKey face down.", false, false},
    {"error", "Find the error", "Worked problems, some wrong: say what went wrong and mend it.",
     "Read the worked problem.\nDecide together: right or wrong?\nIf wrong, circle the step and "
     "work it again.",
     "1 set of worked problems\n4 colored pens", "Problems in order.\nCap the pens.", false, false},
    {"game", "Board game", "Practice with turns: quick problems, a board, a die.",
     "Roll and move.\nSolve the card; the player on your left checks it.\nWrong answer: step "
     "back one.",
     "1 game board\n1 die\n4 counters\n1 set of task cards",
     "Clear the board.\nCount die and counters.\nShuffle the cards.", false, false},
    {"build", "Hands-on", "Fraction strips, tiles, nets: make it, then write it.",
     "Build it with the material.\nDraw what you built.\nWrite it as numbers.",
     "1 tub of building material\n1 direction sheet",
     "All pieces back in the tub.\nLook under the table.", false, false},
    {"words", "Math words", "The vocabulary of the skill: say, draw and use the term.",
     "Draw a word card.\nSay it in your own words, draw it, give an example.\nThe others guess "
     "the word.",
     "1 set of word cards\n4 sheets of paper", "Shuffle the cards.\nTake your drawings with you.",
     false, false},
    {"device", "Device practice", "Practice on a tablet or laptop, one each.",
     "Open today's practice.\nWork on your own; ask your partner before you raise a hand.\nWrite "
     "down one problem that was hard.",
     "4 devices\n4 headphones", "Close what you opened.\nPlug in what is low.", true, false},
}};

std::span<const CenterKind> center_kinds() {
    return kinds;
}

const CenterKind* find_center_kind(std::string_view id) {
    for (const CenterKind& k : kinds) {
        if (k.id == id) return &k;
    }
    return nullptr;
}

}  // namespace tallyround::model
