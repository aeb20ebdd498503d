#include "exchange/inflate.h"

#include <array>
#include <span>

namespace tallyround::exchange {

namespace {

constexpr int longest_code = 15;
constexpr int end_of_block = 256;
constexpr int max_lengths = 286 + 30;

/// Bits of a stream, the lowest bit of each byte first. Past the end `good` is false.
class Bits {
  public:
    explicit Bits(std::string_view bytes) : bytes_(bytes) {}

    unsigned take(int count) {
        unsigned value = 0;
        for (int i = 0; i < count; ++i)
            value |= bit() << unsigned(i);
        return value;
    }
    unsigned bit() {
        if (at_ / 8 >= bytes_.size()) {
            good_ = false;
            return 0;
        }
        const auto byte = static_cast<unsigned char>(bytes_[at_ / 8]);
        return byte >> (at_++ % 8) & 1U;
    }
    void to_byte() { at_ = (at_ + 7) / 8 * 8; }
    std::string_view bytes(std::size_t count) {
        if (at_ / 8 + count > bytes_.size()) {
            good_ = false;
            return {};
        }
        const auto out = bytes_.substr(at_ / 8, count);
        at_ += count * 8;
        return out;
    }
    bool good() const { return good_; }
    bool all_used() const { return (at_ + 7) / 8 == bytes_.size(); }

  private:
    std::string_view bytes_;
    std::size_t at_ = 0;
    bool good_ = true;
};

/// A canonical Huffman code (3.2.2): how many codes of each length, and symbols in code order.
class Code {
  public:
    explicit Code(std::span<const unsigned char> lengths) {
        for (const unsigned char length : lengths)
            ++count_[length];
        count_[0] = 0;
        std::array<int, longest_code + 1> next{};
        for (std::size_t i = 1; i < next.size(); ++i)
            next[i] = next[i - 1] + count_[i - 1];
        for (std::size_t s = 0; s < lengths.size(); ++s)
            if (lengths[s] != 0) symbols_[std::size_t(next[lengths[s]]++)] = int(s);
    }
    /// False when lengths claim more codes than there are; fewer are allowed (one distance code).
    bool fits() const {
        int left = 1;
        for (std::size_t i = 1; i < count_.size(); ++i) {
            left = left * 2 - count_[i];
            if (left < 0) return false;
        }
        return true;
    }
    /// The next symbol, or -1 for a code that stands for nothing.
    int next(Bits& bits) const {
        int code = 0;
        int first = 0;
        int index = 0;
        for (std::size_t length = 1; length < count_.size(); ++length) {
            code |= int(bits.bit());
            if (!bits.good()) return -1;
            if (code - count_[length] < first) return symbols_[std::size_t(index + code - first)];
            index += count_[length];
            first = (first + count_[length]) * 2;
            code *= 2;
        }
        return -1;
    }

  private:
    std::array<int, longest_code + 1> count_{};
    std::array<int, 288> symbols_{};
};

struct Codes {
    Code literals;
    Code distances;
};

/// 3.2.6.
Codes fixed_codes() {
    std::array<unsigned char, 288> lengths{};
    for (std::size_t i = 0; i < lengths.size(); ++i)
        lengths[i] = static_cast<unsigned char>(i < 144 ? 8 : i < 256 ? 9 : i < 280 ? 7 : 8);
    std::array<unsigned char, 30> fives{};
    fives.fill(5);
    return {Code(lengths), Code(fives)};
}

/// 3.2.7.
std::optional<Codes> stated_codes(Bits& bits) {
    static constexpr unsigned char order[] = {16, 17, 18, 0, 8,  7, 9,  6, 10, 5,
                                              11, 4,  12, 3, 13, 2, 14, 1, 15};
    const std::size_t literals = bits.take(5) + 257;
    const std::size_t distances = bits.take(5) + 1;
    const std::size_t stated = bits.take(4) + 4;
    if (literals > 286 || distances > 30) return std::nullopt;
    std::array<unsigned char, 19> of_lengths{};
    for (std::size_t i = 0; i < stated; ++i)
        of_lengths[order[i]] = static_cast<unsigned char>(bits.take(3));
    const Code code(of_lengths);
    if (!code.fits()) return std::nullopt;
    std::array<unsigned char, max_lengths> lengths{};
    for (std::size_t at = 0; at < literals + distances;) {
        const int symbol = code.next(bits);
        if (symbol < 0 || !bits.good()) return std::nullopt;
        if (symbol < 16) {
            lengths[at++] = static_cast<unsigned char>(symbol);
            continue;
        }
        if (symbol == 16 && at == 0) return std::nullopt;
        const unsigned char again = symbol == 16 ? lengths[at - 1] : static_cast<unsigned char>(0);
        std::size_t times = symbol == 16   ? 3 + bits.take(2)
                            : symbol == 17 ? 3 + bits.take(3)
                                           : 11 + bits.take(7);
        if (at + times > literals + distances) return std::nullopt;
        for (; times > 0; --times)
            lengths[at++] = again;
    }
    const std::span<const unsigned char> all(lengths);
    Codes codes{Code(all.first(literals)), Code(all.subspan(literals, distances))};
    const bool usable =
        lengths[end_of_block] != 0 && codes.literals.fits() && codes.distances.fits();
    return usable ? std::optional(codes) : std::nullopt;
}

bool copy_stored(Bits& bits, std::string& out, std::size_t most) {
    bits.to_byte();
    const unsigned length = bits.take(16);
    if (bits.take(16) != (~length & 0xFFFFU)) return false;
    const auto bytes = bits.bytes(length);
    if (!bits.good() || out.size() + bytes.size() > most) return false;
    out += bytes;
    return true;
}

bool copy_coded(Bits& bits, const Codes& codes, std::string& out, std::size_t most) {
    // 3.2.5: where the lengths and distances of each symbol begin, and their further bits.
    static constexpr unsigned short length_from[] = {3,  4,  5,  6,   7,   8,   9,   10,  11, 13,
                                                     15, 17, 19, 23,  27,  31,  35,  43,  51, 59,
                                                     67, 83, 99, 115, 131, 163, 195, 227, 258};
    static constexpr unsigned char length_bits[] = {0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2,
                                                    2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0};
    static constexpr unsigned short from[] = {
        1,   2,   3,   4,   5,   7,    9,    13,   17,   25,   33,   49,   65,    97,    129,
        193, 257, 385, 513, 769, 1025, 1537, 2049, 3073, 4097, 6145, 8193, 12289, 16385, 24577};
    for (;;) {
        const int symbol = codes.literals.next(bits);
        if (symbol < 0 || symbol > 285) return false;
        if (symbol == end_of_block) return true;
        if (symbol < end_of_block) {
            if (out.size() == most) return false;
            out += static_cast<char>(symbol);
            continue;
        }
        const auto kind = std::size_t(symbol - end_of_block - 1);
        const std::size_t length = length_from[kind] + bits.take(length_bits[kind]);
        const int which = codes.distances.next(bits);
        if (which < 0 || which > 29) return false;
        const int more = which < 4 ? 0 : which / 2 - 1;
        const std::size_t back = from[which] + bits.take(more);
        if (!bits.good() || back > out.size() || out.size() + length > most) return false;
        for (std::size_t i = 0; i < length; ++i)
            out += out[out.size() - back];
    }
}

}  // namespace

std::optional<std::string> inflate(std::string_view packed, std::size_t most) {
    Bits bits(packed);
    std::string out;
    for (bool last = false; !last;) {
        last = bits.bit() != 0;
        const unsigned kind = bits.take(2);
        bool good = bits.good() && kind < 3;
        if (good && kind == 0) {
            good = copy_stored(bits, out, most);
        } else if (good) {
            const auto codes = kind == 1 ? std::optional(fixed_codes()) : stated_codes(bits);
            good = codes && copy_coded(bits, *codes, out, most);
        }
        if (!good) return std::nullopt;
    }
    return bits.all_used() ? std::optional(std::move(out)) : std::nullopt;
}

std::uint32_t crc32(std::string_view bytes) {
    static constexpr auto table = [] {
        std::array<std::uint32_t, 256> all{};
        for (std::uint32_t i = 0; i < all.size(); ++i) {
            all[i] = i;
            for (int k = 0; k < 8; ++k)
                all[i] = all[i] >> 1U ^ ((all[i] & 1U) != 0 ? 0xEDB88320U : 0U);
        }
        return all;
    }();
    std::uint32_t crc = 0xFFFFFFFFU;
    for (const char c : bytes)
        crc = crc >> 8U ^ table[(crc ^ static_cast<unsigned char>(c)) & 0xFFU];
    return ~crc;
}

}  // namespace tallyround::exchange
