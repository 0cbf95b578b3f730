#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/study/findings.hpp"
#include "report/table.hpp"

namespace ohmdrag::report {

inline constexpr std::string_view nothing = "–";  ///< a figure that does not exist here

/// "3.1" with its "(2.4 … 3.9)"; the scale turns a share into per cent.
Cell figure(const Interval& value, double scale = 1.0);
Cell figure(const std::optional<Interval>& value, double scale = 1.0);
Cell figure(double value);
Cell figure(const std::optional<double>& value);
Cell words(std::string text);

/// The marks of all flags in one cell. Limits that are kept share one note, so that the broken ones
/// stand out.
Cell marks(const std::vector<study::Flag>& flags, Footnotes& notes);

/// The text under construction.
class Page {
 public:
  explicit Page(const TerminalOptions& options) : options_(options) {}

  void title(std::string_view text);    ///< bold, underlined
  void heading(std::string_view text);  ///< bold, a blank line before
  void say(std::string_view text, std::string_view lead = {});
  void table(const Table& table);
  void line(std::string_view text);  ///< as it stands, cut at the page's width
  const TerminalOptions& options() const { return options_; }
  void notes(const Footnotes& notes);
  void space();

  std::string text() && { return std::move(text_); }

 private:
  void emphasized(std::string_view text);

  TerminalOptions options_;
  std::string text_;
};

}  // namespace ohmdrag::report
