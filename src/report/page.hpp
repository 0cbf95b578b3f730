#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "ohmdrag/quantity/distribution.hpp"
#include "report/table.hpp"

namespace ohmdrag::report {

inline constexpr std::string_view nothing = "–";  ///< a figure that does not exist here

/// "3.1" with its "(2.4 … 3.9)"; the scale turns a share into per cent.
Cell figure(const Interval& value, double scale = 1.0);
Cell figure(const std::optional<Interval>& value, double scale = 1.0);
Cell figure(double value);
Cell figure(const std::optional<double>& value);
Cell words(std::string text);

/// The marks of all flags in one cell.
template <class Flags>
Cell marks(const Flags& flags, Footnotes& notes) {
  std::string out;
  for (const auto& flag : flags) out += notes.mark(flag.text);
  return {out, {}};
}

/// The text under construction.
class Page {
 public:
  explicit Page(const TerminalOptions& options) : options_(options) {}

  void title(std::string_view text);    ///< bold, underlined
  void heading(std::string_view text);  ///< bold, a blank line before
  void say(std::string_view text, std::string_view lead = {});
  void table(const Table& table);
  void notes(const Footnotes& notes);
  void space();

  std::string text() && { return std::move(text_); }

 private:
  void emphasized(std::string_view text);

  TerminalOptions options_;
  std::string text_;
};

}  // namespace ohmdrag::report
