#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "model/state.h"
#include "sheets/sheet.h"

namespace tallyround::ui {

/// The sheets of the block on screen, made once and again when something they say has changed.
class PrintDesk {
  public:
    struct Row {
        const sheets::SheetKind* kind = nullptr;
        int pages = 0;
        std::string lacks;  ///< what the plan needs for it; empty when it can be printed
    };

    void update(const model::Class& cls, const model::Block& block,
                const sheets::SheetChoices& choices);
    const std::vector<Row>& rows() const { return rows_; }

  private:
    std::optional<sheets::PrepBox> seen_;
    std::optional<sheets::SheetChoices> made_for_;
    std::vector<Row> rows_;
};

}  // namespace tallyround::ui
