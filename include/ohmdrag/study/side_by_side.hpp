#pragma once

#include <cstddef>
#include <functional>

namespace ohmdrag::study {

/// Calls a function for 0 to count - 1 in parallel, all of them. Of what they throw the first in
/// that order gets through, as in a plain loop.
void side_by_side(std::size_t count, const std::function<void(std::size_t)>& each);

}  // namespace ohmdrag::study
