#pragma once

#include <chrono>
#include <cstddef>
#include <string>

namespace ohmdrag::app {

/// A line on standard error that is written over by the next one and wiped at the end.
class ProgressLine {
 public:
  using Clock = std::chrono::steady_clock;

  /// Begins to count the time.
  void begin();
  /// Whether the last line is old enough for a new one; often enough to be seen moving.
  bool is_due() const;
  void show(const std::string& text);
  void wipe();

  double seconds() const;  ///< since the begin
  /// "20 s left", if the rest goes as fast as what is done.
  std::string left_in_words(std::size_t done, std::size_t all) const;

 private:
  Clock::time_point begin_ = Clock::now();
  Clock::time_point shown_ = begin_;
  std::size_t width_ = 0;
};

/// Whether anybody would see it.
bool errors_on_terminal();

}  // namespace ohmdrag::app
