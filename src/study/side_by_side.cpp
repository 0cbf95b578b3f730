#include "ohmdrag/study/side_by_side.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <exception>
#include <vector>

namespace ohmdrag::study {

void side_by_side(std::size_t count, const std::function<void(std::size_t)>& each) {
  std::vector<std::exception_ptr> thrown(count);
  oneapi::tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) {
    try {
      each(i);
    } catch (...) {
      thrown[i] = std::current_exception();
    }
  });
  for (const std::exception_ptr& one : thrown)
    if (one) std::rethrow_exception(one);
}

}  // namespace ohmdrag::study
