#pragma once

#include <string>
#include <string_view>

#include "input/node.hpp"
#include "input/reader.hpp"
#include "ohmdrag/input/catalogue.hpp"

namespace ohmdrag::input {

/// An entry of a section with everything that its table says, in the order of the file: what the
/// reader of the section took as a number with its unit and spread, all else as the words that
/// stand there. The tree leads, so that nothing of an entry stays unlisted because its reader does
/// not hand it out. What the reader finds wrong is complained of in the context.
ListedEntry listed_entry(ReadContext& context, std::string_view section, const Node& entry,
                         std::string id);

}  // namespace ohmdrag::input
