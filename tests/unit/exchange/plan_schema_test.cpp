#include "exchange/plan_schema.h"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <string>

// To write the file anew after a change of members.h:
//   build/native/tallyround schema > assets/schemas/plan-1.schema.json
TEST_CASE("the schema that is kept with the assets is the one of this version") {
    std::ifstream in(TALLYROUND_ASSETS "/schemas/plan-1.schema.json", std::ios::binary);
    const std::string kept(std::istreambuf_iterator<char>(in), {});
    CHECK(kept == tallyround::exchange::plan_schema());
}
