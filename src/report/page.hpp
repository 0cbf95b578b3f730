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

/// A piece of a page, as the sections gave it: not yet laid out, not yet made harmless.
struct Block {
  enum class Kind { title, heading, words, table, notes, line, space };
  Kind kind = Kind::space;
  std::string text = {};                ///< of a title, heading, paragraph or line
  std::string lead = {};                ///< what a paragraph begins with, "Claim: " or "· "
  Table rows = {};                      ///< of a table
  std::vector<std::string> notes = {};  ///< in the order of their marks, the first is [1]
};

/// What the sections have to say, in its order. The terminal and the report in HTML lay out the
/// same blocks.
class Page {
 public:
  explicit Page(const TerminalOptions& options) : options_(options) {}

  void title(std::string_view text);    ///< bold, underlined
  void heading(std::string_view text);  ///< bold, a blank line before
  void say(std::string_view text, std::string_view lead = {});
  void table(const Table& table);
  void line(std::string_view text);  ///< as it stands, cut at the page's width
  void notes(const Footnotes& notes);
  void space();
  const TerminalOptions& options() const { return options_; }

  const std::vector<Block>& blocks() const { return blocks_; }
  /// Laid out for a terminal.
  std::string text() const;

 private:
  TerminalOptions options_;
  std::vector<Block> blocks_;
};

}  // namespace ohmdrag::report
