#include "exchange/framework.h"
#include "exchange/oneroster.h"
#include "exchange/plan_file.h"
#include "exchange/roster.h"
#include "exchange/sealed.h"
#include "ui/app_inside.h"

namespace tallyround::ui {

namespace {

/// Classes of a school's OneRoster zip: which one is asked for.
void bring_school(Act& act, const std::string& name, std::string_view bytes) {
    auto school = exchange::read_oneroster(bytes);
    if (!school) return act.say(name + ": " + school.error().text(), true);
    act.view.school = std::move(school->classes);
    act.view.overlay = Overlay::school_class;
    if (!school->warnings.empty()) act.say(school->warnings.front(), true);
}

void bring_names(Act& act, const std::string& name, std::string_view bytes) {
    const auto roster = exchange::read_roster(bytes, name);
    if (!roster) return act.say(name + ": " + roster.error().text(), true);
    session::AddStudents add{act.view.cls, {}};
    for (const auto& s : roster->students)
        add.students.push_back({s.name, s.source_id});
    act.send(add, Reply::with_undo);
    if (!roster->warnings.empty()) act.say(roster->warnings.front().message, true);
}

/// Skills of a framework in CASE.
void bring_skills(Act& act, const std::string& name, std::string_view bytes) {
    const auto framework = exchange::read_framework(bytes);
    if (!framework) return act.say(name + ": " + framework.error().text(), true);
    session::BringSkills bring{act.view.cls, {}};
    for (const exchange::FrameworkSkill& skill : framework->skills) {
        model::OwnSkill own{model::SkillId(skill.id), skill.title, skill.grade, skill.code, {}, {}};
        for (const std::string& before : skill.before)
            own.before.emplace_back(before);
        bring.skills.push_back(std::move(own));
    }
    act.send(bring, Reply::with_undo);
}

}  // namespace

/// It was opened, or another file is chosen.
void App::Inside::forget_sealed() {
    if (view.overlay == Overlay::sealed_file) view.overlay = Overlay::none;
    view.sealed = {};
    view.drafts.erase("file-passcode");
}

void App::Inside::pick(const std::string& purpose, const std::string& name, std::string_view bytes,
                       const Now& now) {
    dirty = true;
    forget_sealed();
    AppAct act(*this, now);
    if (purpose == "names" && exchange::looks_like_zip(bytes))
        return bring_school(act, name, bytes);
    if (purpose == "names") return bring_names(act, name, bytes);
    if (purpose == "framework") return bring_skills(act, name, bytes);
    if (purpose == "card picture") {
        act.send(session::SetCardPicture{view.cls, view.skill, view.index, std::string(bytes)},
                 Reply::with_undo);
        return;
    }
    if (exchange::is_sealed(bytes)) {
        view.sealed = {purpose, name, std::string(bytes)};
        view.passcode_trouble.clear();
        view.drafts["file-passcode"].clear();
        view.overlay = Overlay::sealed_file;
        return;
    }
    bring_plan(now, name, exchange::read_plan(bytes));
}

void App::file_picked(const std::string& purpose, const std::string& name, std::string_view bytes,
                      const Now& now) {
    in_->pick(purpose, name, bytes, now);
}

}  // namespace tallyround::ui
