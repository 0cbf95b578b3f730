#include "ohmdrag/rig/one_port.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

namespace ohmdrag::rig {

namespace {

using Complex = std::complex<double>;

std::string lowered(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

std::vector<std::string_view> words_of(std::string_view line) {
  constexpr std::string_view blanks = " \t\r";
  line = line.substr(0, line.find('!'));
  std::vector<std::string_view> words;
  while (true) {
    const std::size_t first = line.find_first_not_of(blanks);
    if (first == std::string_view::npos) return words;
    line.remove_prefix(first);
    const std::size_t end = std::min(line.find_first_of(blanks), line.size());
    words.push_back(line.substr(0, end));
    line.remove_prefix(end);
  }
}

std::optional<double> number_in(std::string_view word) {
  if (word.starts_with('+')) word.remove_prefix(1);
  double value = 0.0;
  const auto [stop, error] = std::from_chars(word.data(), word.data() + word.size(), value);
  if (error != std::errc{} || stop != word.data() + word.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

class OnePortReader {
 public:
  OnePort read(std::string_view text) {
    while (!text.empty()) {
      ++line_;
      const std::size_t end = std::min(text.find('\n'), text.size());
      take(words_of(text.substr(0, end)));
      text.remove_prefix(std::min(end + 1, text.size()));
    }
    if (out_.sweep.empty()) refuse("holds no row of numbers");
    if (parameter_ == 's') out_.reference = Resistance::from_value(reference_ohm_);
    return std::move(out_);
  }

 private:
  [[noreturn]] void refuse(const std::string& why) const {
    throw std::invalid_argument(fmt::format("line {}: {}", line_, why));
  }

  void take(const std::vector<std::string_view>& words) {
    if (words.empty()) return;
    if (words.front().starts_with('[')) refuse("is of version 2; save the file as version 1");
    if (words.front().starts_with('#')) {
      // The first option line counts; further ones are ignored.
      if (!options_read_) read_options(words);
      options_read_ = true;
      return;
    }
    if (!options_read_) refuse("an option line, # MHz S MA R 50, comes before the numbers");
    read_row(words);
  }

  void read_options(const std::vector<std::string_view>& words) {
    std::vector<std::string> options;
    for (const std::string_view word : words)
      if (std::string option = lowered(word); option != "#") options.push_back(std::move(option));
    if (!options.empty() && options.front().starts_with('#')) options.front().erase(0, 1);
    for (std::size_t i = 0; i < options.size(); ++i) {
      const std::string& option = options[i];
      if (option == "hz" || option == "khz" || option == "mhz" || option == "ghz") {
        unit_Hz_ = option == "hz" ? 1.0 : option == "khz" ? 1e3 : option == "mhz" ? 1e6 : 1e9;
      } else if (option == "s" || option == "y" || option == "z") {
        parameter_ = option.front();
      } else if (option == "ma" || option == "db" || option == "ri") {
        format_ = option;
      } else if (option == "r") {
        const auto ohm = i + 1 < options.size() ? number_in(options[++i]) : std::nullopt;
        if (!ohm || !(*ohm > 0.0)) refuse("expected a reference above 0 ohm behind R");
        reference_ohm_ = *ohm;
      } else if (option == "h" || option == "g") {
        refuse("H and G are parameters of two ports; expected S, Y or Z of one");
      } else {
        refuse(fmt::format("read \"{}\" in the option line; expected # unit S|Y|Z MA|DB|RI R ohm",
                           option));
      }
    }
  }

  void read_row(const std::vector<std::string_view>& words) {
    constexpr std::size_t of_one_port = 3;
    if (words.size() != of_one_port)
      refuse(fmt::format("has {} numbers; a file of one port has a frequency and a pair{}",
                         words.size(), words.size() > of_one_port ? ". Is it of more ports?" : ""));
    std::array<double, of_one_port> numbers{};
    for (std::size_t i = 0; i < of_one_port; ++i) {
      const auto number = number_in(words[i]);
      if (!number) refuse(fmt::format("read \"{}\", which is no number", words[i]));
      numbers[i] = *number;
    }
    const Frequency frequency = Frequency::from_value(numbers[0] * unit_Hz_);
    if (!out_.sweep.empty() && !(frequency > out_.sweep.back().frequency))
      refuse("the frequency does not rise");
    out_.sweep.push_back({frequency, impedance_of(pair_of(numbers[1], numbers[2]))});
  }

  Complex pair_of(double first, double second) const {
    if (format_ == "ri") return {first, second};
    const double size = format_ == "db" ? std::pow(10.0, first / 20.0) : first;
    if (size < 0.0) refuse("a magnitude is negative");
    return std::polar(size, second * std::numbers::pi / 180.0);
  }

  Complex impedance_of(Complex value) const {
    if (parameter_ == 'z') return reference_ohm_ * value;
    if (value == (parameter_ == 's' ? Complex{1.0} : Complex{}))
      refuse("nothing is connected: the reflection is total");
    if (parameter_ == 'y') return reference_ohm_ / value;
    return reference_ohm_ * (1.0 + value) / (1.0 - value);
  }

  std::size_t line_ = 0;
  bool options_read_ = false;
  double unit_Hz_ = 1e9, reference_ohm_ = 50.0;
  char parameter_ = 's';
  std::string format_ = "ma";
  OnePort out_;
};

}  // namespace

OnePort one_port_of(std::string_view text) { return OnePortReader().read(text); }

}  // namespace ohmdrag::rig
