#include "ui/app_inside.h"

namespace tallyround::ui {

namespace {

void say_not_brought(Act& act, const std::string& name) {
    act.say(name + " was not brought in. Nothing here was changed.");
}

}  // namespace

void AppAct::cancel_reading() {
    if (!in_.files.reading) return;
    say_not_brought(*this, std::exchange(in_.files.reading, nullptr)->name);
}

void AppAct::cancel_bringing() {
    if (!in_.files.bringing) return;
    say_not_brought(*this, std::exchange(in_.files.bringing, nullptr)->name);
}

void App::file_begins(const std::string& name, std::size_t bytes, const Now& now) {
    Inside& in = *in_;
    AppAct act(in, now);
    in.dirty = true;
    in.forget_sealed();
    in.files.reading.reset();
    if (in.read_only) {
        act.say("This tab only shows the class. Take over first.", true);
        return;
    }
    in.files.reading =
        std::make_unique<FileDesk::Reading>(name, bytes, now.steady_ms, in.session.log());
    act.fx.emplace_back(Announce{"Reading " + name + "."});
}

App::Piece App::file_piece(std::string_view bytes, const Now&) {
    auto& reading = in_->files.reading;
    if (!reading) return Piece::enough;
    if (!reading->sieve.holds()) return Piece::again;
    const int percent = reading->percent();
    const auto fed = reading->reader.feed(bytes);
    reading->done += bytes.size();
    if (reading->percent() != percent) in_->dirty = true;
    if (fed == exchange::PlanReader::Fed::on) return Piece::more;
    if (fed == exchange::PlanReader::Fed::over) return Piece::enough;
    reading.reset();
    in_->dirty = true;
    return Piece::whole;
}

App::Piece App::file_ends(const Now& now) {
    Inside& in = *in_;
    if (!in.files.reading) return Piece::enough;
    if (!in.files.reading->sieve.holds()) return Piece::again;
    const auto reading = std::exchange(in.files.reading, nullptr);
    in.dirty = true;
    auto plan = reading->reader.finish();
    in.bring_plan(now, reading->name, std::move(plan), reading->sieve.take_seen());
    return Piece::enough;
}

}  // namespace tallyround::ui
