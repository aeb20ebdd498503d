#include "session/prep.h"

#include <algorithm>

#include "base/text.h"
#include "cards/bank.h"
#include "model/kinds.h"
#include "session/derived.h"
#include "session/procedures.h"

namespace tallyround::session {

namespace {

/// Lines without white space around them; empty ones are dropped.
std::vector<std::string> tidied(std::string_view text) {
    std::vector<std::string> lines;
    for (const std::string_view raw : base::lines_of(text)) {
        std::string line = base::tidy_line(raw);
        if (!line.empty()) lines.push_back(std::move(line));
    }
    return lines;
}

int visits_of(const model::Block& block, const model::CenterId& center) {
    if (block.chart.empty()) return int(block.groups.size());
    int visits = 0;
    for (const auto& row : block.chart)
        visits += int(std::count(row.begin(), row.end(), center));
    return visits;
}

sheets::OwnCard card_box(const model::Class& cls, const model::OwnCard& card) {
    sheets::OwnCard out{card.prompt, card.answer};
    if (const model::CardPicture* picture = cls.picture(card.picture)) {
        out.picture = picture->id.str();
        out.width = std::max(1, picture->width);
        out.height = std::max(1, picture->height);
        out.shows = base::tidy_line(card.shows);
    }
    return out;
}

sheets::CenterBox center_box(const model::Class& cls, const model::Block& block,
                             const model::Center& center) {
    sheets::CenterBox out;
    out.id = center.id.str();
    out.number = center_number(block, center.id);
    out.kind = center.kind;
    out.title = base::tidy_line(center_title(center));
    out.skill_title = base::tidy_line(skill_title(cls, center.skill));
    if (const cards::SkillInfo* info = cards::find_skill(center.skill.view())) {
        out.skill = info->id;
        out.code = info->code;
    }
    if (const model::OwnSkill* own = cls.own_skill(center.skill)) {
        out.code = own->code;
        for (const model::OwnCard& card : own->cards)
            out.own_cards.push_back(card_box(cls, card));
    }
    const model::CenterKind* kind = model::find_center_kind(center.kind);
    const bool usual = kind != nullptr && center.materials == kind->materials;
    out.steps = tidied(center.instructions.empty() && kind != nullptr ? kind->instructions
                                                                      : center.instructions);
    out.materials = tidied(center.materials);
    out.usual_materials = usual;
    if (kind != nullptr) {
        out.reset = tidied(kind->reset);
        out.uses_devices = kind->uses_devices;
        out.teacher_led = kind->teacher_led;
    }
    out.tiers = center.tiers;
    out.visits = visits_of(block, center.id);
    return out;
}

std::vector<sheets::RoundBox> round_boxes(const model::Block& block) {
    const Fitted fitted = fit_block(block);
    std::vector<sheets::RoundBox> rounds(round_count(block));
    for (std::size_t r = 0; r < rounds.size(); ++r) {
        rounds[r].number = int(r) + 1;
        if (r >= fitted.rounds.size()) continue;
        const RoundTime& time = fitted.rounds[r];
        rounds[r].day = base::short_day(time.date);
        rounds[r].clock =
            base::clock_text(time.start_second) + "–" + base::clock_text(time.end_second);
    }
    return rounds;
}

std::vector<int> route_of(const model::Block& block, std::size_t group) {
    std::vector<int> route;
    if (group >= block.chart.size()) return route;
    for (const model::CenterId& id : block.chart[group])
        route.push_back(center_number(block, id));
    return route;
}

}  // namespace

sheets::PictureSource pictures_of(const model::Class& cls) {
    return [&cls](std::string_view id) {
        const model::CardPicture* picture = cls.picture(model::PictureId(id));
        return picture == nullptr ? std::string() : picture->data;
    };
}

std::size_t round_count(const model::Block& block) {
    std::size_t rounds = 0;
    for (const auto& row : block.chart)
        rounds = std::max(rounds, row.size());
    return rounds;
}

int center_number(const model::Block& block, const model::CenterId& id) {
    int number = 0;
    for (const model::Center& center : block.centers) {
        if (center.closed) continue;
        ++number;
        if (center.id == id) return number;
    }
    return 0;
}

sheets::PrepBox prep_box(const model::Class& cls, const model::Block& block) {
    sheets::PrepBox box;
    box.class_name = base::tidy_line(cls.name);
    box.block_title = base::tidy_line(block.title);
    for (const model::Center* center : open_centers(block))
        box.centers.push_back(center_box(cls, block, *center));
    for (std::size_t g = 0; g < block.groups.size(); ++g) {
        sheets::GroupBox group;
        group.name = group_name(int(g));
        for (const model::StudentId& id : block.groups[g])
            if (const model::Student* student = cls.student(id))
                group.students.push_back(base::tidy_line(student->name));
        group.route = route_of(block, g);
        box.groups.push_back(std::move(group));
    }
    box.rounds = round_boxes(block);
    box.has_chart = !box.rounds.empty();
    box.procedures = tidied(procedures_of(cls));
    box.round_minutes = block.timing.round_minutes;
    box.move_minutes = block.timing.move_minutes;
    box.devices = block.devices;
    for (const model::Stock& stock : cls.stock)
        box.stock.emplace_back(stock.item, stock.count);
    box.ticked = block.ready;
    for (const model::StudentId& id : block.absent) {
        const model::Student* student = cls.student(id);
        if (student == nullptr) continue;
        sheets::MissedBox missed;
        missed.student = base::tidy_line(student->name);
        const int group = model::group_of(block, id);
        if (group >= 0) {
            missed.group = group_name(group);
            for (const int number : route_of(block, std::size_t(group)))
                if (number > 0) missed.centers.push_back(number);
        }
        box.missed.push_back(std::move(missed));
    }
    return box;
}

}  // namespace tallyround::session
