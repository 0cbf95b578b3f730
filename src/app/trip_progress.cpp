#include "app/trip_progress.hpp"

#include <fmt/format.h>

#include "app/progress_line.hpp"

namespace ohmdrag::app {

study::TripProgress trip_progress() {
  if (!errors_on_terminal()) return {};
  return [line = ProgressLine{}](std::size_t done, std::size_t all) mutable {
    if (done == 0) line.begin();
    if (done == all) return line.wipe();
    if (done == 0 || !line.is_due()) return;
    line.show(fmt::format("trip {} of {}, {}", done + 1, all, line.left_in_words(done, all)));
  };
}

}  // namespace ohmdrag::app
