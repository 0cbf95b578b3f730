#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/report/terminal.hpp"

namespace ohmdrag::report {

enum class Align { left, right };

struct Cell {
  std::string text = {};
  std::string tail = {};  ///< "(2.4 … 3.9)": kept apart so that the numbers before it line up
};

struct Column {
  std::string head = {};
  std::string unit = {};
  Align align = Align::right;
  bool flexible = false;  ///< words that may be wrapped when the table is too wide
};

enum class Turn {
  never,
  if_wide,  ///< rows become columns when the table is wider than the page
  always,
};

/// Rows of cells under heads. A column without any content is left
/// out.
struct Table {
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;
  Turn turn = Turn::never;
  std::size_t keys = 1;  ///< columns that name the row; every part of a split table repeats them
};

/// The table in lines of one and the same width each, at most the page's where the cells allow it:
/// too wide, its words are wrapped, then it is turned, then it is split into several tables with
/// the same first columns. Figures are never broken.
///
/// \throws std::invalid_argument if a row has not as many cells as there are columns.
std::string printed(const Table& table, const TerminalOptions& options);

Table without_empty_columns(const Table& table);

/// Heads down the side with their units, one column for each row; without what is empty.
Table turned(const Table& table);

/// Remarks under a table; equal texts share one mark.
class Footnotes {
 public:
  /// "[1]"
  std::string mark(const std::string& text);
  /// In the order of their marks.
  const std::vector<std::string>& texts() const { return texts_; }

 private:
  std::map<std::string, std::size_t, std::less<>> numbers_;
  std::vector<std::string> texts_;
};

/// Remarks as footnotes, "[1] …", in lines of the page's width.
std::string numbered(const std::vector<std::string>& notes, const TerminalOptions& options);

/// Words in lines of the page's width, the first line after `lead`, the others indented below it.
std::string paragraph(std::string_view text, const TerminalOptions& options,
                      std::string_view lead = {});

/// The text in bold letters where these are wanted.
std::string bold(std::string_view text, const TerminalOptions& options);

}  // namespace ohmdrag::report
