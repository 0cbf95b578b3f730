#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/uncertain.hpp"
#include "ohmdrag/rig/estimate.hpp"

/// What the fit of a measured run says, in a form that every kind of run shares: writers print it
/// and compute nothing.
namespace ohmdrag::rig {

/// How a number is shown: shown = SI / scale - offset.
struct ShownIn {
  std::string unit;  ///< empty: dimensionless
  double scale = 1.0;
  double offset = 0.0;
};

/// A figure that the run told or should have told.
struct RunFigure {
  std::string key;   ///< in the result document, ends with the SI unit: "heat_capacity_J_per_K"
  std::string name;  ///< on the page
  ShownIn shown;
  struct Told {
    double value = 0.0;  ///< SI
    std::optional<double> standard_error;
    /// Ends of the 95 % interval; infinite: bounded on one side only; none: a plain number.
    std::optional<std::pair<double, double>> interval;
  };
  std::optional<Told> told;  ///< none: the run does not tell it, and a note says why
  bool only_in_document = false;
};

template <class Q>
RunFigure run_figure(std::string key, std::string name, ShownIn shown,
                     const std::optional<Estimate<Q>>& estimate) {
  RunFigure figure{std::move(key), std::move(name), std::move(shown), {}, false};
  if (estimate) {
    const double value = Uncertain<Q>::raw(estimate->value);
    const double half = Uncertain<Q>::raw(estimate->half_width);
    figure.told = {{value, Uncertain<Q>::raw(estimate->standard_error),
                    std::pair{value - half, value + half}}};
  }
  return figure;
}
template <class Q>
RunFigure run_figure(std::string key, std::string name, ShownIn shown,
                     const Estimate<Q>& estimate) {
  return run_figure(std::move(key), std::move(name), std::move(shown), std::optional(estimate));
}
/// A number without an interval of its own.
RunFigure plain_figure(std::string key, std::string name, ShownIn shown, double value);

/// An empty cell is what was not told.
using RunCell = std::variant<std::monostate, std::string, double, Interval>;
struct RunColumn {
  std::string key;   ///< in the result document, ends with the SI unit
  std::string name;  ///< on the page
  ShownIn shown = {};
};
struct RunTable {
  std::string key;
  std::string title;
  std::vector<RunColumn> columns;
  std::vector<std::vector<RunCell>> rows;  ///< numbers SI
  /// Curves and residuals, sample by sample: in the result document, not on the page.
  bool only_in_document = false;
};

/// A number that a case can include. Half widths are those of the 95 % interval.
struct FittedNumber {
  double value = 0.0;  ///< SI
  ShownIn shown;
  std::optional<double> spread;                          ///< what the run does not know, SI
  std::optional<double> scatter;                         ///< part to part, SI
  std::optional<std::pair<double, double>> spread_ends;  ///< in place of `spread`, SI
  /// In place of `spread` and `scatter`: the f of "×/÷ f", of what is log-normal.
  std::optional<double> spread_factor, scatter_factor;
};
/// A key and what it is set to; text is quoted, a plain double is dimensionless and bare.
struct EntryLine {
  std::string key;
  std::variant<std::string, double, bool, FittedNumber> value;
};
/// A table of TOML, in the words of a case.
struct FittedEntry {
  std::string table;     ///< dotted, "sump" or "contact.tested-lip.resistance"
  std::string validity;  ///< in words, a comment above it; may be empty
  std::vector<EntryLine> lines;
  bool one_of_list = false;  ///< of an array of tables, [[variant]]
};

/// Fitted numbers that a case has to draw together.
struct FittedCorrelation {
  std::vector<std::string> keys;  ///< dotted, table and key
  std::vector<double> matrix;     ///< row by row
  bool of_scatter = false;        ///< of what differs from part to part
};
/// To four decimals, drawn towards zero by as little as leaves a correlation matrix after rounding.
/// \throws std::invalid_argument for a matrix that is none, in words
FittedCorrelation fitted_correlation(std::vector<std::string> keys, std::vector<double> matrix,
                                     bool of_scatter = false);

struct RunFile {
  std::string name;  ///< without its folder
  std::string sha256;
  std::size_t rows = 0;
};

struct RunFindings {
  std::string kind;  ///< word of the run file
  std::string title, specimen, date, oil;
  std::vector<RunFile> files;
  /// What the run was and what was made of it before the fit: label and words.
  std::vector<std::pair<std::string, std::string>> conditions;
  std::string model;  ///< what was fitted, a line
  std::vector<RunFigure> figures;
  std::vector<RunTable> tables;
  /// How well the model meets the run: label and words.
  std::vector<std::pair<std::string, std::string>> quality;
  std::vector<std::string> notes;     ///< what is not told and why, what to do about it
  std::vector<std::string> warnings;  ///< what makes the figures doubtful
  std::vector<std::string> cautions;  ///< for a reader who can get hurt
  /// Empty: nothing that a case could include, and `no_entry` says why.
  std::vector<FittedEntry> entries;
  std::vector<FittedCorrelation> correlations;  ///< of numbers of the entries
  std::vector<std::string> entry_comments;      ///< on what the entries do not carry
  std::string no_entry;
  std::string source_remark;  ///< what the source of the entries says beside run and specimen
};

}  // namespace ohmdrag::rig
