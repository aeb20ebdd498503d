#pragma once
#include <initializer_list>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "base/random.h"
#include "cards/exact.h"
#include "cards/generate.h"

namespace tallyround::cards {

/// Seeded choices for one card.
class Draw {
  public:
    Draw(base::Random& random, Tier tier) : random_(random), tier_(tier) {}

    Tier tier() const { return tier_; }
    /// One of three values, by tier.
    template <class T>
    T by_tier(T support, T core, T stretch) const {
        return tier_ == Tier::support ? support : tier_ == Tier::core ? core : stretch;
    }
    bool support() const { return tier_ == Tier::support; }
    bool stretch() const { return tier_ == Tier::stretch; }

    std::int64_t in(std::int64_t low, std::int64_t high) { return random_.between(low, high); }
    /// low..high without 0.
    std::int64_t nonzero(std::int64_t low, std::int64_t high);
    /// low..high, made negative half of the time where `may` allows.
    std::int64_t either_sign(std::int64_t low, std::int64_t high, bool may = true) {
        const std::int64_t n = in(low, high);
        return may && coin() ? -n : n;
    }
    bool coin() { return random_.below(2) == 0; }
    template <class T>
    T of(std::initializer_list<T> choices) {
        return choices.begin()[random_.below(choices.size())];
    }
    template <class T>
    const T& of(const std::vector<T>& choices) {
        return choices[random_.below(choices.size())];
    }
    template <class T>
    void shuffle(std::vector<T>& items) {
        random_.shuffle(items);
    }
    /// A first name, from many languages; never the same twice running.
    std::string_view name();

  private:
    base::Random& random_;
    Tier tier_;
    std::size_t last_name_ = 0;
};

inline std::string spoken(std::string_view part) {
    return std::string(part);
}
inline std::string spoken(const Exact& part) {
    return fraction_text(part);
}
inline std::string written(std::string_view part) {
    return std::string(part);
}
inline std::string written(const Exact& part) {
    return math_in(part);
}

/// The parts joined for a person: numbers with "−" and commas, fractions as "3/4".
template <class... Parts>
std::string say(const Parts&... parts) {
    std::string out;
    ((out += spoken(parts)), ...);
    return out;
}

/// The parts joined for a computer-algebra system: negatives and fractions in brackets.
template <class... Parts>
std::string calc(const Parts&... parts) {
    std::string out;
    ((out += written(parts)), ...);
    return out;
}

/// "3x − 5", "−x + 2", "7": a·letter + b without empty parts.
std::string linear_text(const Exact& a, std::string_view letter, const Exact& b);
/// "3*x-5": the same for a computer-algebra system.
std::string linear_math(const Exact& a, std::string_view letter, const Exact& b);

/// "(3, −2)": a point of the coordinate grid.
std::string point_text(const Exact& x, const Exact& y);

/// How numbers are written on a card.
using Show = std::string (*)(const Exact&);

/// A card in the making. Broken attempts (undefined numbers, slips that meet) are found by
/// `verdict`; the composer then draws again.
class Draft {
  public:
    enum class Verdict { broken, partial, full };

    void ask(std::string prompt, std::string prompt_math);
    /// How `answer` and `slip` write numbers; `before` and `after` hug the number (" cm²").
    void show(Show how, std::string after = "", std::string before = "");
    /// Answers are values of a letter: "x = 3" for people, "x=3" for the computer-algebra system.
    void show_letter(std::string_view letter, Show how = mixed_text);
    /// Answers are multiples of π: "36π cm²" for people, "36*pi" for the computer-algebra system.
    void show_times_pi(std::string_view unit);
    void answer(const Exact& value);
    void answer(std::string text, std::string text_math);
    void slip(const SlipInfo& slip, const Exact& value);
    void slip(const SlipInfo& slip, std::string text, std::string text_math);
    /// A number that the student leaves in a form of its own ("6/8").
    void slip_as(const SlipInfo& slip, const std::string& text, const Exact& value);
    template <class... Parts>
    void step(const Parts&... parts) {
        card_.steps.push_back(say(parts...));
    }

    /// What is drawn beside the problem.
    void picture(Picture drawn) { card_.picture = std::move(drawn); }

    /// full: every slip tried shows and all answers differ; partial: those that do not are taken
    /// out and at least one is left; broken: use another draw.
    Verdict verdict();
    const Card& card() const { return card_; }

  private:
    std::string shown(const Exact& value) const;
    bool showable(const Exact& value) const;
    std::string shown_math(const Exact& value) const;

    Card card_;
    Show how_ = mixed_text;
    std::string after_;
    std::string before_;
    std::string math_before_;
    std::string math_after_;
    std::size_t tried_ = 0;
    bool broken_ = false;
};

/// One attempt at a card; false asks for another draw.
using Make = bool (*)(Draw& draw, Draft& draft);

/// How cards of one skill are made.
struct Generator {
    std::string_view skill;
    std::array<std::string_view, 3> features;  ///< support, core, stretch
    std::vector<const SlipInfo*> slips;        ///< every slip `make` may use
    Make make;
};

}  // namespace tallyround::cards
