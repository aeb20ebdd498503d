#include "cards/forms.h"

#include <algorithm>
#include <array>
#include <set>

#include "base/random.h"
#include "cards/words.h"

namespace tallyround::cards {

namespace {

constexpr std::array<std::string_view, 7> ids{"plain", "match", "sort", "find-error",
                                              "board", "words", "code"};

/// Words to spell, the longest first.
constexpr std::array<std::string_view, 18> code_words{
    "DISTRIBUTION", "COORDINATES", "PERCENTAGE", "NUMERATOR", "FRACTION", "TRIANGLE",
    "DECIMAL",      "INTEGER",     "FACTOR",     "VOLUME",    "PRISM",    "SLOPE",
    "AREA",         "MEAN",        "SUM",        "NET",       "PI",       "X"};

constexpr std::size_t board_side = 5;

/// Cards whose answers all differ.
std::vector<const Card*> different(std::span<const Card> cards) {
    std::set<std::string_view> seen;
    std::vector<const Card*> out;
    for (const Card& card : cards)
        if (seen.insert(card.answer).second) out.push_back(&card);
    return out;
}

struct Half {
    std::string text;
    Picture picture;
    std::size_t pair;
};

/// Shuffles the halves, numbers them and keys which two belong together.
void lay_pairs(FormSet& set, std::vector<Half> halves, base::Random& random) {
    random.shuffle(halves);
    std::vector<std::vector<std::size_t>> places(halves.size() / 2);
    for (std::size_t i = 0; i < halves.size(); ++i) {
        places[halves[i].pair].push_back(i + 1);
        set.pieces.push_back(
            {std::to_string(i + 1), std::move(halves[i].text), std::move(halves[i].picture)});
    }
    std::sort(places.begin(), places.end());
    for (const auto& two : places) {
        const std::string other = std::to_string(two[1]);
        set.key.push_back({std::to_string(two[0]), "goes with " + other, other});
    }
}

/// One piece a problem, its answer in the key.
void lay_problems(FormSet& set, std::span<const Card> cards) {
    for (std::size_t i = 0; i < cards.size(); ++i) {
        const std::string mark = std::to_string(i + 1);
        set.pieces.push_back({mark, cards[i].prompt, cards[i].picture});
        set.key.push_back({mark, cards[i].answer});
    }
}

void match(FormSet& set, std::span<const Card> cards, base::Random& random) {
    set.task =
        "Find the answer that belongs to each problem. Say why before you put them together.";
    std::vector<Half> halves;
    const auto all = different(cards);
    for (std::size_t i = 0; i < all.size(); ++i) {
        halves.push_back({all[i]->prompt, all[i]->picture, i});
        halves.push_back({all[i]->answer, {}, i});
    }
    lay_pairs(set, std::move(halves), random);
}

void words(FormSet& set, std::string_view skill, base::Random& random) {
    set.task = "Match each word with what it means, then use it in a sentence of your own.";
    std::vector<Half> halves;
    const auto all = terms_for(skill);
    for (std::size_t i = 0; i < all.size(); ++i) {
        halves.push_back({std::string(all[i]->term), {}, i});
        halves.push_back({std::string(all[i]->meaning), {}, i});
    }
    lay_pairs(set, std::move(halves), random);
}

std::string what_went_wrong(const Card& card, const WrongAnswer& wrong) {
    const SlipInfo* slip = find_slip(wrong.slip);
    return "not right: it is " + card.answer + "." +
           (slip == nullptr ? std::string() : " " + std::string(slip->rule) + ".");
}

/// Problems with an answer, about `right_in_ten` of ten right. At least one is right, one wrong.
void judge(FormSet& set, std::span<const Card> cards, base::Random& random,
           std::uint64_t right_in_ten, std::string_view between) {
    bool any_right = false;
    bool any_wrong = false;
    for (std::size_t i = 0; i < cards.size(); ++i) {
        const Card& card = cards[i];
        const bool last = i + 1 == cards.size() && cards.size() > 1;
        bool right = random.below(10) < right_in_ten;
        if (last && !any_right) right = true;
        if (last && !any_wrong) right = false;
        if (card.slips.empty()) right = true;
        (right ? any_right : any_wrong) = true;
        const std::string mark = std::to_string(i + 1);
        std::string text = card.prompt + "\n" + std::string(between);
        if (right) {
            set.pieces.push_back({mark, text + card.answer, card.picture});
            set.key.push_back({mark, "right"});
            continue;
        }
        const WrongAnswer& wrong = card.slips[random.below(card.slips.size())];
        set.pieces.push_back({mark, text + wrong.answer, card.picture});
        set.key.push_back({mark, what_went_wrong(card, wrong)});
    }
}

void board(FormSet& set, std::span<const Card> cards, base::Random& random) {
    set.task =
        "Take turns: draw a card, solve it, and cover its answer on the board. If the others do "
        "not "
        "agree, it is not covered. Four in a row wins. The middle is free.";
    std::vector<std::string> answers;
    for (const Card* card : different(cards))
        answers.push_back(card->answer);
    const std::size_t cells = board_side * board_side - 1;
    if (answers.size() > cells) answers.resize(cells);
    const std::size_t known = answers.size();
    while (known > 0 && answers.size() < cells)
        answers.push_back(answers[answers.size() % known]);
    random.shuffle(answers);
    if (!answers.empty()) answers.insert(answers.begin() + cells / 2, "free");
    set.grid = std::move(answers);
    set.columns = int(board_side);
    lay_problems(set, cards);
}

void code(FormSet& set, std::span<const Card> cards, base::Random& random) {
    set.task =
        "Find each answer in the list and write down its letter. Right answers spell a word.";
    const auto all = different(cards);
    const auto word = std::find_if(code_words.begin(), code_words.end(),
                                   [&](std::string_view w) { return w.size() <= all.size(); });
    if (word == code_words.end()) return;
    std::set<std::string> taken;
    for (std::size_t i = 0; i < word->size(); ++i) {
        taken.insert(all[i]->answer);
        set.grid.push_back(all[i]->answer + ": " + (*word)[i]);
        set.pieces.push_back({std::to_string(i + 1), all[i]->prompt, all[i]->picture});
        set.key.push_back({std::to_string(i + 1), std::string(1, (*word)[i])});
    }
    for (std::size_t i = 0; i < word->size(); ++i) {
        for (const WrongAnswer& wrong : all[i]->slips) {
            if (set.grid.size() >= 2 * word->size() || !taken.insert(wrong.answer).second) continue;
            set.grid.push_back(wrong.answer + ": " + char('A' + random.below(26)));
        }
    }
    random.shuffle(set.grid);
    set.columns = 4;
}

}  // namespace

std::string_view form_id(Form form) {
    return ids[std::size_t(form)];
}

std::optional<Form> find_form(std::string_view id) {
    for (std::size_t i = 0; i < ids.size(); ++i)
        if (ids[i] == id) return Form(i);
    return std::nullopt;
}

FormSet make_form(Form form, std::string_view skill, std::span<const Card> cards,
                  std::uint64_t seed) {
    FormSet set;
    set.form = form;
    base::Random random(seed * 0x9e3779b97f4a7c15U + std::uint64_t(form));
    switch (form) {
        case Form::plain:
            set.task = "Work it out in your notebook, then check.";
            lay_problems(set, cards);
            break;
        case Form::match:
            match(set, cards, random);
            break;
        case Form::sort:
            set.task = "Sort the cards into two piles: right, and not right. Say how you know.";
            set.pieces.push_back({"", "Right", {}});
            set.pieces.push_back({"", "Not right", {}});
            judge(set, cards, random, 5, "Answer: ");
            break;
        case Form::find_error:
            set.task = "Is the answer right? If not, find what went wrong and work it again.";
            judge(set, cards, random, 3, "Somebody's answer:\n");
            break;
        case Form::board:
            board(set, cards, random);
            break;
        case Form::words:
            words(set, skill, random);
            break;
        case Form::code:
            code(set, cards, random);
            break;
    }
    return set;
}

}  // namespace tallyround::cards
