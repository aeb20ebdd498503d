#pragma once
#include <string>

namespace tallyround::exchange {

/// The JSON Schema (2020-12) of plan files as it stands in assets/schemas/plan-1.schema.json.
std::string plan_schema();

}  // namespace tallyround::exchange
