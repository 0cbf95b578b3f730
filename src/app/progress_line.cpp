#include "app/progress_line.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <iostream>

namespace ohmdrag::app {
namespace {

/// Often enough to be seen moving; what ends before the first time needs no line.
constexpr std::chrono::milliseconds between_lines{200};

}  // namespace

void ProgressLine::begin() { begin_ = shown_ = Clock::now(); }

bool ProgressLine::is_due() const { return Clock::now() - shown_ >= between_lines; }

void ProgressLine::show(const std::string& text) {
  shown_ = Clock::now();
  std::cerr << '\r' << text << std::string(width_ - std::min(width_, text.size()), ' ')
            << std::flush;
  width_ = text.size();
}

void ProgressLine::wipe() {
  if (width_ > 0) std::cerr << '\r' << std::string(width_, ' ') << '\r' << std::flush;
  width_ = 0;
}

double ProgressLine::seconds() const {
  return std::chrono::duration<double>(Clock::now() - begin_).count();
}

std::string ProgressLine::left_in_words(std::size_t done, std::size_t all) const {
  constexpr double minute_s = 60.0, hour_s = 3600.0;
  const double left_s = seconds() / static_cast<double>(done) * static_cast<double>(all - done);
  if (left_s < 2.0 * minute_s) return fmt::format("{:.0f} s left", std::ceil(left_s));
  if (left_s < 2.0 * hour_s) return fmt::format("{:.0f} min left", std::ceil(left_s / minute_s));
  return fmt::format("{:.0f} h left", std::ceil(left_s / hour_s));
}

bool errors_on_terminal() { return ::isatty(STDERR_FILENO) != 0; }

}  // namespace ohmdrag::app
