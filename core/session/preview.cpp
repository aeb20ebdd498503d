#include "session/preview.h"

#include "record/fold.h"

namespace tallyround::session {

model::Block block_after(const model::Class& cls, const model::Block& block,
                         const Decision& decision) {
    // The fold itself, on a class that has its students and nothing but this block.
    model::State state;
    model::Class& only = state.classes.emplace_back();
    only.id = cls.id;
    only.students = cls.students;
    only.blocks = {block};
    for (const record::Body& body : decision.events)
        record::apply(state, {{}, body, {}}, 0);
    return state.classes.front().blocks.front();
}

}  // namespace tallyround::session
