// Writes the page of observations to standard output (tools/observations).
#include <fmt/core.h>

#include "tests/observations/observations.h"

int main() { fmt::print("{}", bedshade::test::observations_page()); }
