#include "evaluate.h"

#include <cctype>

using tallyround::cards::Exact;

namespace {

class Parser {
  public:
    explicit Parser(std::string_view text) : text_(text) {}

    std::optional<Exact> run() {
        const Exact value = sum();
        if (failed_ || at_ != text_.size() || !value.defined()) return std::nullopt;
        return value;
    }

  private:
    bool take(char c) {
        if (at_ >= text_.size() || text_[at_] != c) return false;
        ++at_;
        return true;
    }

    Exact sum() {
        Exact value = product();
        while (true) {
            if (take('+'))
                value = value + product();
            else if (take('-'))
                value = value - product();
            else
                return value;
        }
    }

    Exact product() {
        Exact value = signed_power();
        while (true) {
            if (take('*'))
                value = value * signed_power();
            else if (take('/'))
                value = value / signed_power();
            else
                return value;
        }
    }

    Exact signed_power() {
        if (take('-')) return Exact(0) - signed_power();
        const Exact base = atom();
        if (!take('^')) return base;
        const Exact exponent = take('-') ? Exact(0) - atom() : atom();
        if (!exponent.whole()) {
            failed_ = true;
            return base;
        }
        Exact value(1);
        for (long long i = 0; i < exponent.top(); ++i)
            value = value * base;
        for (long long i = 0; i > exponent.top(); --i)
            value = value / base;
        return value;
    }

    Exact atom() {
        if (take('(')) {
            const Exact value = sum();
            if (!take(')')) failed_ = true;
            return value;
        }
        long long number = 0;
        const std::size_t start = at_;
        while (at_ < text_.size() && std::isdigit(static_cast<unsigned char>(text_[at_])) != 0 &&
               at_ - start < 18)
            number = number * 10 + (text_[at_++] - '0');
        if (at_ == start) failed_ = true;
        return Exact(number);
    }

    std::string_view text_;
    std::size_t at_ = 0;
    bool failed_ = false;
};

}  // namespace

std::optional<Exact> evaluate(std::string_view text) {
    return Parser(text).run();
}
