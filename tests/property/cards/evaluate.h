#pragma once
#include <optional>
#include <string_view>

#include "cards/exact.h"

/// Works out + - * / ^ and brackets over whole numbers, in the usual order; nothing for anything
/// else (letters, functions, lists). Shares no code with the generators.
std::optional<tallyround::cards::Exact> evaluate(std::string_view text);
