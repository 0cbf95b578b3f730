#include "study/explain_worked.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace ohmdrag::study {
namespace {

/// Sums of products of powers, read from left to right.
class Reading {
 public:
  Reading(std::string_view text, const std::function<double(std::string_view)>& value_of)
      : text_(text), value_of_(value_of) {}

  double whole() {
    const double value = sum();
    if (at_ != text_.size()) fail();
    return value;
  }

 private:
  [[noreturn]] void fail() const {
    throw std::logic_error("explain: cannot work out " + std::string(text_));
  }

  char next() {
    while (at_ < text_.size() && text_[at_] == ' ') ++at_;
    return at_ < text_.size() ? text_[at_] : '\0';
  }
  bool take(char sign) {
    if (next() != sign) return false;
    ++at_;
    return true;
  }

  double sum() {
    double value = product();
    for (;;) {
      if (take('+'))
        value += product();
      else if (take('-'))
        value -= product();
      else
        return value;
    }
  }
  double product() {
    double value = signed_power();
    for (;;) {
      if (take('*'))
        value *= signed_power();
      else if (take('/'))
        value /= signed_power();
      else
        return value;
    }
  }
  double signed_power() { return take('-') ? -signed_power() : power(); }
  double power() {
    const double base = atom();
    return take('^') ? std::pow(base, signed_power()) : base;
  }

  double atom() {
    const char first = next();
    if (take('(')) {
      const double value = sum();
      if (!take(')')) fail();
      return value;
    }
    if (std::isdigit(static_cast<unsigned char>(first)) != 0) return number();
    const std::size_t begin = at_;
    while (at_ < text_.size() &&
           (std::isalnum(static_cast<unsigned char>(text_[at_])) != 0 || text_[at_] == '_'))
      ++at_;
    const std::string_view name = text_.substr(begin, at_ - begin);
    if (name.empty()) fail();
    if (take('(')) return function(name);
    return name == "pi" ? std::numbers::pi : value_of_(name);
  }

  double number() {
    double value = 0.0;
    const auto [end, error] =
        std::from_chars(text_.data() + at_, text_.data() + text_.size(), value);
    if (error != std::errc()) fail();
    at_ = static_cast<std::size_t>(end - text_.data());
    return value;
  }

  double function(std::string_view name) {
    std::vector<double> values{sum()};
    while (take(',')) values.push_back(sum());
    if (!take(')')) fail();
    if (name == "max") return *std::ranges::max_element(values);
    if (name == "min") return *std::ranges::min_element(values);
    static constexpr std::array<std::pair<std::string_view, double (*)(double)>, 5> of_one{
        {{"sqrt", std::sqrt},
         {"exp", std::exp},
         {"ln", std::log},
         {"lg", std::log10},
         {"asin", std::asin}}};
    for (const auto& [known, of] : of_one)
      if (known == name) return of(values.front());
    fail();
  }

  std::string_view text_;
  const std::function<double(std::string_view)>& value_of_;
  std::size_t at_ = 0;
};

}  // namespace

double worked(std::string_view expression,
              const std::function<double(std::string_view)>& value_of) {
  return Reading(expression, value_of).whole();
}

}  // namespace ohmdrag::study
