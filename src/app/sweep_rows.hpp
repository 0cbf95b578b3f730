#pragma once

#include <atomic>
#include <cstddef>
#include <string>

#include "ohmdrag/input/case_tree.hpp"
#include "ohmdrag/report/sweep_csv.hpp"
#include "ohmdrag/study/design.hpp"
#include "ohmdrag/study/headlines.hpp"

namespace ohmdrag::app {

/// A row of a sweep that could be evaluated: it says which columns there are.
struct SoundRow {
  study::Case question;
  study::Headlines headlines;
};

/// From rows of a design to lines of the table.
class SweepRows {
 public:
  /// \param draws       with the draws of the case; else every number at its middle
  /// \param typed_sets  how many `--set`s the tree has of its own
  /// \param reader      who gets the table
  SweepRows(const input::CaseTree& tree, const study::Design& design, bool draws,
            std::size_t typed_sets, Share reader);

  /// Of the first rows the first that can be evaluated. A key that the case does not know is no
  /// matter of one row and is thrown at once.
  /// \throws what the first row threw, if none of them can
  SoundRow first_sound_row() const;

  /// The lines of a row; where the row is refused, its complaint. Safe from many threads at once.
  std::string lines(const study::DesignRow& row, const report::SweepCsv& csv);

  std::size_t refused() const { return refused_; }  ///< by lines(), so far

 private:
  study::Headlines headlines(const study::Case& question) const;
  study::Case question(const study::DesignRow& row) const;

  const input::CaseTree& tree_;
  const study::Design& design_;
  bool draws_;
  std::size_t typed_sets_;
  Share reader_;
  std::atomic<std::size_t> refused_ = 0;
};

}  // namespace ohmdrag::app
