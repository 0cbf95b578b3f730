#include "app/trip_progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <iostream>
#include <string>

namespace ohmdrag::app {
namespace {

using Clock = std::chrono::steady_clock;

/// Often enough to be seen moving; what ends before the first time needs no line.
constexpr std::chrono::milliseconds between_lines{200};

/// A line that is written over by the next one.
class Line {
 public:
  void show(const std::string& text) {
    std::cerr << '\r' << text << std::string(width_ - std::min(width_, text.size()), ' ')
              << std::flush;
    width_ = text.size();
  }
  void wipe() {
    if (width_ > 0) std::cerr << '\r' << std::string(width_, ' ') << '\r' << std::flush;
    width_ = 0;
  }

 private:
  std::size_t width_ = 0;
};

std::string left_in_words(double left_s) {
  constexpr double minute_s = 60.0;
  if (left_s < 2.0 * minute_s) return fmt::format("{:.0f} s left", std::ceil(left_s));
  return fmt::format("{:.0f} min left", std::ceil(left_s / minute_s));
}

}  // namespace

study::TripProgress trip_progress() {
  if (::isatty(STDERR_FILENO) == 0) return {};
  return [line = Line{}, begin = Clock::now(), shown = Clock::now()](std::size_t done,
                                                                     std::size_t all) mutable {
    const Clock::time_point now = Clock::now();
    if (done == 0) begin = shown = now;
    if (done == all) return line.wipe();
    if (done == 0 || now - shown < between_lines) return;
    shown = now;
    const double so_far_s = std::chrono::duration<double>(now - begin).count();
    const double left_s = so_far_s / static_cast<double>(done) * static_cast<double>(all - done);
    line.show(fmt::format("trip {} of {}, {}", done + 1, all, left_in_words(left_s)));
  };
}

}  // namespace ohmdrag::app
