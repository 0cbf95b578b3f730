#pragma once

// posix_memalign() of the GNU C library before 2.38 does not reuse what it gave back: the heap of
// an ensemble would grow with its draws. Boost's own way takes a little more and gives it back. All
// sources must agree on it, so this header alone includes the allocator.
#define BOOST_ALIGN_USE_ALIGN
#include <boost/align/aligned_allocator.hpp>
#include <vector>

namespace ohmdrag::numerics {

/// Numbers that begin on a cache line.
using AlignedDoubles = std::vector<double, boost::alignment::aligned_allocator<double, 64>>;

}  // namespace ohmdrag::numerics
