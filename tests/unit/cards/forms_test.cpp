#include "cards/forms.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "cards/bank.h"
#include "cards/words.h"

using namespace tallyround::cards;

namespace {

std::vector<Card> some(std::string_view skill, int count) {
    const auto made = make_cards(skill, Tier::core, count, 7);
    REQUIRE(made);
    return *made;
}

const Piece& piece(const FormSet& set, const std::string& mark) {
    const auto it = std::find_if(set.pieces.begin(), set.pieces.end(),
                                 [&](const Piece& p) { return p.mark == mark; });
    REQUIRE(it != set.pieces.end());
    return *it;
}

}  // namespace

TEST_CASE("match: the key joins each problem with its own answer") {
    const auto cards = some("frac-add-unlike", 8);
    const FormSet set = make_form(Form::match, "frac-add-unlike", cards, 3);
    CHECK(set.pieces.size() == 2 * set.key.size());
    for (const FormKey& line : set.key) {
        const std::string one = piece(set, line.mark).text;
        const std::string other = piece(set, line.says.substr(10)).text;
        CHECK(std::any_of(cards.begin(), cards.end(), [&](const Card& c) {
            return (c.prompt == one && c.answer == other) || (c.prompt == other && c.answer == one);
        }));
    }
}

TEST_CASE("sort and find the error: the key is right about every piece and both piles have some") {
    const auto cards = some("percent-of", 12);
    for (const Form form : {Form::sort, Form::find_error}) {
        const FormSet set = make_form(form, "percent-of", cards, 5);
        std::size_t right = 0;
        for (std::size_t i = 0; i < set.key.size(); ++i) {
            const bool says_right = set.key[i].says == "right";
            const bool is_right =
                piece(set, set.key[i].mark).text.ends_with(": " + cards[i].answer) ||
                piece(set, set.key[i].mark).text.ends_with(":\n" + cards[i].answer);
            CHECK(says_right == is_right);
            right += says_right ? 1 : 0;
        }
        CHECK(right >= 1);
        CHECK(right < set.key.size());
    }
}

TEST_CASE("board: 25 cells around a free middle, each an answer of a card") {
    const auto cards = some("order-of-operations", 24);
    const FormSet set = make_form(Form::board, "order-of-operations", cards, 1);
    REQUIRE(set.grid.size() == 25);
    CHECK(set.grid[12] == "free");
    for (std::size_t i = 0; i < 25; ++i) {
        if (i == 12) continue;
        CHECK(std::any_of(cards.begin(), cards.end(),
                          [&](const Card& c) { return c.answer == set.grid[i]; }));
    }
}

TEST_CASE("code: following the answers spells a word, and no answer has two letters") {
    const auto cards = some("one-step-add", 8);
    const FormSet set = make_form(Form::code, "one-step-add", cards, 2);
    std::string word;
    std::set<std::string> answers;
    for (const std::string& row : set.grid)
        CHECK(answers.insert(row.substr(0, row.rfind(": "))).second);
    for (std::size_t i = 0; i < set.key.size(); ++i) {
        const auto row = std::find_if(set.grid.begin(), set.grid.end(), [&](const std::string& r) {
            return r.starts_with(cards[i].answer + ": ");
        });
        REQUIRE(row != set.grid.end());
        word += row->back();
    }
    CHECK(word.size() >= 4);
    std::string keyed;
    for (const FormKey& line : set.key)
        keyed += line.says;
    CHECK(word == keyed);
}

TEST_CASE("the same request lays the same set") {
    const auto cards = some("mean", 6);
    const FormSet one = make_form(Form::match, "mean", cards, 9);
    const FormSet two = make_form(Form::match, "mean", cards, 9);
    for (std::size_t i = 0; i < one.pieces.size(); ++i)
        CHECK(one.pieces[i].text == two.pieces[i].text);
    CHECK(make_form(Form::board, "mean", {}, 1).grid.empty());
}

TEST_CASE("at least 100 terms, each once, short, and not explained by itself") {
    std::set<std::string_view> seen;
    for (const Term& term : vocabulary()) {
        CAPTURE(term.term);
        CHECK(seen.insert(term.term).second);
        CHECK(term.meaning.size() <= 120);
        CHECK(term.meaning.find(term.term) == std::string_view::npos);
        CHECK(term.grade >= 5);
        CHECK(term.grade <= 8);
    }
    CHECK(seen.size() >= 100);
    const auto some = terms_for("frac-add-unlike");
    REQUIRE(some.size() == 8);
    CHECK(std::all_of(some.begin(), some.end(),
                      [](const Term* t) { return t->strand == Strand::fractions; }));
}
