#include "effects.h"

#include <variant>

#include "host.h"

namespace tallyround::shell {

namespace {

struct CarryOut {
    void operator()(const ui::AppendRecord& e) const { host::append(e.key, e.record); }
    void operator()(const ui::WriteSnapshot& e) const {
        host::snapshot(e.through, e.bytes, e.only);
    }
    void operator()(const ui::SetAside& e) const { host::set_aside(e.record, e.why); }
    void operator()(const ui::SaveStored&) const { host::save_stored(); }
    void operator()(const ui::WritePreferences& e) const { host::preferences(e.json); }
    void operator()(const ui::SaveFile& e) const {
        host::save_file(e.name, e.mime, e.bytes, e.seal, e.parts);
    }
    void operator()(const ui::FilePart& e) const { host::file_part(e.bytes, e.seal); }
    void operator()(const ui::ForgetParts&) const { host::forget_parts(); }
    void operator()(const ui::RewriteRecord& e) const { host::rewrite(e.through, e.bytes); }
    void operator()(const ui::Unlock& e) const { host::unlock(e.passcode); }
    void operator()(const ui::ChangePasscode& e) const {
        host::change_passcode(e.was, e.now, e.through, e.snapshot);
    }
    void operator()(const ui::LockNow&) const { host::lock(); }
    void operator()(const ui::LockAfter& e) const { host::lock_after(e.minutes); }
    void operator()(const ui::OpenSealed& e) const {
        host::open_sealed(e.purpose, e.name, e.bytes, e.passcode);
    }
    void operator()(const ui::WipeDevice&) const { host::wipe(); }
    void operator()(const ui::Install&) const { host::install(); }
    void operator()(const ui::PickFile& e) const { host::pick_file(e.purpose, e.accept); }
    void operator()(const ui::ShowCodes& e) const { host::show_codes(e.bytes); }
    void operator()(const ui::ReadCodes&) const { host::read_codes(); }
    void operator()(const ui::PrintPage& e) const { host::print(e.title, e.html); }
    void operator()(const ui::Announce& e) const { host::announce(e.text); }
    void operator()(const ui::TakeOver&) const { host::take_over(); }
    void operator()(const ui::KeepAwake& e) const { host::keep_awake(e.on); }
    void operator()(const ui::AskToPersist&) const { host::persist(); }
    void operator()(const ui::Vibrate& e) const { host::vibrate(e.milliseconds); }
    void operator()(const ui::Chime& e) const { host::chime(e.final); }
    void operator()(const ui::Focus& e) const { host::focus(e.node); }
    void operator()(const ui::FullScreen& e) const { host::full_screen(e.on); }
    void operator()(const ui::BoardWindow&) const { host::board_window(); }
    void operator()(const ui::SwitchVersion&) const { host::switch_version(); }
};

}  // namespace

void carry_out(const ui::Effects& effects) {
    for (const ui::Effect& effect : effects)
        std::visit(CarryOut{}, effect);
}

}  // namespace tallyround::shell
