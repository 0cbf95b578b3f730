#pragma once

#include <span>
#include <string>

#include "input/node.hpp"
#include "input/problems.hpp"
#include "ohmdrag/input/catalogue.hpp"
#include "ohmdrag/study/case.hpp"

namespace ohmdrag::input {

/// From the merged tree to the case; the tree is altered by the `--set`s.
/// \param catalogue  for one thread at a time
/// \throws InputError with every problem of the tree and of the sets
study::Case case_from_tree(Node tree, study::Provenance provenance, Problems& problems,
                           std::span<const std::string> sets, const Catalogue& catalogue);

}  // namespace ohmdrag::input
