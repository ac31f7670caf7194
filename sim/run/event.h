// Something that happened on a day of a run and is told in words: an action done, a colony gone.
#pragma once

#include <string>

namespace bedshade {

struct EventRecord {
    double day_d = 0.0;  ///< days since the season's start
    int member = 0;
    std::string kind;  ///< one word, kebab case: "trimmed", "died" …
    int colony = -1;   ///< index into Layout::colonies; -1 where it concerns none
    std::string text;  ///< one sentence for people
};

}  // namespace bedshade
