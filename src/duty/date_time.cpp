#include <chrono>

#include "duty/csv_scan.hpp"

namespace ohmdrag::duty {

namespace {

/// Takes figures off the front of a text and remembers whether all were there.
struct Taker {
  std::string_view rest;
  bool sound = true;

  int digits(std::size_t count) {
    int value = 0;
    for (std::size_t i = 0; i < count; ++i) {
      if (i >= rest.size() || rest[i] < '0' || rest[i] > '9') {
        sound = false;
        return 0;
      }
      value = 10 * value + (rest[i] - '0');
    }
    rest.remove_prefix(count);
    return value;
  }
  /// One of the characters; 0 if none of them is next.
  char one_of(std::string_view characters) {
    if (rest.empty() || characters.find(rest.front()) == std::string_view::npos) return 0;
    const char c = rest.front();
    rest.remove_prefix(1);
    return c;
  }
  void must(std::string_view characters) { sound = one_of(characters) != 0 && sound; }
};

double part_of_a_second(Taker& text) {
  double part = 0.0;
  double weight = 0.1;
  while (const char digit = text.one_of("0123456789")) {
    part += weight * (digit - '0');
    weight *= 0.1;
  }
  return part;
}

/// Seconds east of Greenwich; nothing without an offset.
std::optional<int> offset_s(Taker& text) {
  if (text.one_of("Zz")) return 0;
  const char sign = text.one_of("+-");
  if (!sign) return {};
  const int hours = text.digits(2);
  const bool colon = text.one_of(":") != 0;
  const int minutes = colon || !text.rest.empty() ? text.digits(2) : 0;
  if (hours > 23 || minutes > 59) text.sound = false;
  return (sign == '-' ? -60 : 60) * (60 * hours + minutes);
}

}  // namespace

std::optional<DateTime> date_time_in(std::string_view cell) {
  Taker text{cell};
  const int year = text.digits(4);
  text.must("-");
  const int month = text.digits(2);
  text.must("-");
  const int day = text.digits(2);
  text.must("Tt ");
  const int hour = text.digits(2);
  text.must(":");
  const int minute = text.digits(2);
  DateTime result;
  int second = 0;
  if (text.one_of(":")) {
    second = text.digits(2);
    if (text.one_of(".,")) result.part_s = part_of_a_second(text);
  }
  const auto offset = offset_s(text);
  const std::chrono::year_month_day date{std::chrono::year{year},
                                         std::chrono::month{static_cast<unsigned>(month)},
                                         std::chrono::day{static_cast<unsigned>(day)}};
  // A second 60 is a leap second: the scale of UTC then repeats one.
  if (!text.sound || !text.rest.empty() || !date.ok() || hour > 23 || minute > 59 || second > 60)
    return {};
  const std::int64_t days = std::chrono::sys_days{date}.time_since_epoch().count();
  result.whole_s = ((days * 24 + hour) * 60 + minute) * 60 + second - offset.value_or(0);
  result.with_offset = offset.has_value();
  return result;
}

}  // namespace ohmdrag::duty
