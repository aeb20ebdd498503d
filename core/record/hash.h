#pragma once
#include <memory>
#include <string>
#include <string_view>

#include "model/state.h"

namespace tallyround::record {

/// XXH3 128-bit (xxHash 0.8's stable hash) of any bytes, 32 hex digits.
std::string bytes_hash(std::string_view bytes);

/// The same of bytes that come in pieces.
class Hasher {
  public:
    Hasher();
    ~Hasher();
    Hasher(const Hasher&) = delete;
    Hasher& operator=(const Hasher&) = delete;
    void add(std::string_view bytes);
    std::string hex() const;

  private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

/// A canonical text of the state, the same on every platform: whole numbers and counted strings,
/// no floating point. Everything but the marks' places in the record, so that a record in which
/// something was taken back and one in which it never happened read the same.
std::string canonical(const model::State& state);
/// XXH3 128-bit of `canonical`, 32 hex digits: equal states, equal hash.
std::string state_hash(const model::State& state);

}  // namespace tallyround::record
