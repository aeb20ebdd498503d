#pragma once
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>

#include "exchange/plan_reader.h"
#include "exchange/plan_writer.h"
#include "session/bringing.h"

namespace tallyround::ui {

/// Plan files of large records: one that is made between frames, one that comes in pieces.
struct FileDesk {
    /// A record of no more events is written at once.
    static constexpr std::size_t at_once = 5000;
    /// Written in one frame: some 3 ms in the browser.
    static constexpr std::size_t events_a_frame = 2500;

    struct Saving {
        std::string name;
        bool seal = false;
        double began_ms = 0;  ///< steady
        std::unique_ptr<exchange::PlanWriter> writer = std::make_unique<exchange::PlanWriter>();
        session::Beginning began = {};  ///< what is written so far
    };
    std::optional<Saving> saving;

    /// One that comes in pieces.
    struct Reading {
        Reading(std::string name_, std::size_t bytes_, double began_ms_, const record::Log& log)
            : name(std::move(name_)),
              bytes(bytes_),
              began_ms(began_ms_),
              sieve(log),
              reader(bytes_, [this](const record::Event& e) { return sieve.fresh(e); }) {}
        Reading(const Reading&) = delete;
        Reading& operator=(const Reading&) = delete;

        int percent() const { return bytes == 0 ? 100 : int(100 * double(done) / double(bytes)); }

        std::string name;
        std::size_t bytes;
        std::size_t done = 0;
        double began_ms;  ///< steady
        session::Sieve sieve;
        exchange::PlanReader reader;
    };
    std::unique_ptr<Reading> reading;

    /// What was read, on its way into the record.
    struct Bringing {
        std::string name;
        double began_ms;  ///< steady
        session::Bringing work;
        bool worked_out = false;
    };
    std::unique_ptr<Bringing> bringing;
    /// Of so many events in all, everything is done in the frame in which they come.
    static constexpr std::size_t brought_at_once = 20'000;
    /// Folded in one frame: some 5 ms in the browser.
    static constexpr std::size_t brought_a_frame = 5000;

    /// A frame is wanted at once: there is more to do.
    bool busy() const { return saving.has_value() || bringing != nullptr; }
};

}  // namespace tallyround::ui
