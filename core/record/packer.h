#pragma once
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "record/event.h"

namespace tallyround::record {

/// `pack` in pieces, for a record too large to be packed between two frames.
class Packer {
  public:
    /// Of the first `count` events of what `step` is given.
    explicit Packer(std::size_t count);
    ~Packer();
    Packer(Packer&&) noexcept;
    Packer& operator=(Packer&&) noexcept;

    /// Takes in about `most` events more, or as much of what is to be done after them; true when
    /// there is nothing left to do. `events` begins with the same ones each time.
    bool step(std::span<const Event> events, std::size_t most);
    /// The snapshot, once.
    std::string take();

  private:
    struct Inside;
    std::unique_ptr<Inside> in_;
};

/// `unpack` in pieces. `bytes` must stay where they are until `take`.
class Unpacker {
  public:
    explicit Unpacker(std::string_view bytes);
    ~Unpacker();
    Unpacker(Unpacker&&) noexcept;
    Unpacker& operator=(Unpacker&&) noexcept;

    /// Reads about `most` events more; true when there is nothing left to do.
    bool step(std::size_t most);
    double progress() const;  ///< 0 .. 1
    /// Reads what is left; as `unpack`, once.
    base::Result<std::vector<Event>> take();

  private:
    struct Inside;
    std::unique_ptr<Inside> in_;
};

}  // namespace tallyround::record
