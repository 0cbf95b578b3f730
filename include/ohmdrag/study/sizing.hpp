#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/findings.hpp"

/// How much element is enough: the window between too little and too much.
namespace ohmdrag::study {

/// What of an element is sized. All but the forces act through the fibres' force.
enum class SizedBy { line_force, total_radial_force, interference, free_length, fibre_count };
/// The word of files and of the command line.
std::string_view word_of(SizedBy knob);
std::vector<std::string> sized_by_words();
/// \throws std::invalid_argument for a word that is none of these.
SizedBy sized_by_from(std::string_view word);

Dimension dimension_of(SizedBy knob);

/// Which part of a variant.
enum class SizedPart { grounding, seal };

struct SizingQuestion {
  std::string variant;
  SizedPart part = SizedPart::grounding;
  std::optional<SizedBy> knob = {};  ///< none: the force that the case states, else the line force
  std::optional<double> from = {};   ///< SI; none: a third of the case's value
  std::optional<double> to = {};     ///< SI; none: three times the case's value
};

/// What is sized: the knob that is asked for, else the force that the case states.
/// \throws std::invalid_argument as size_element().
SizedBy knob_sized(const Case& question, const SizingQuestion& what);

/// Something that bounds the window.
struct SizingLimit {
  std::string id;    ///< of the requirement, or a word of the physics
  std::string what;  ///< in words, with its bound
  double share = 0;  ///< of the parts that have to keep it
  enum class Side { never, too_little, too_much, between, always } side = Side::always;
  /// The edge lies between these two values of the knob, the first of which breaks the limit; with
  /// `between` that of the low side. None: the limit has no edge within the range.
  std::optional<std::pair<double, double>> edge;
  std::optional<std::pair<double, double>> upper_edge;  ///< with `between`
};

/// The element at one value of the knob.
struct SizingRow {
  double knob = 0.0;         ///< SI, middle
  Interval line_force_N_mm;  ///< of the new part at 20 degC
  Interval line_force_at_end_N_mm;
  std::optional<Interval> impedance_ohm;  ///< end of service, at the requirements' frequencies
  std::optional<Interval> net_W;          ///< worst point
  std::optional<Interval> Wh_per_km;      ///< worst driven duty
  std::optional<Interval> contact_degC;   ///< hottest contact, worst point
  std::optional<Interval> worn_out_h;     ///< infinite: not within any service
  std::optional<Interval> edge_peak_V;
  std::optional<Interval> striking_share;
  std::optional<Interval> dose_factor;
  /// By limit: share of the draws that keep it; where a confidence is asked for, share of the parts
  /// that keeps it with that confidence.
  std::vector<double> kept;
  double inside = 0.0;  ///< share of the draws that keep all
  bool coarse = true;   ///< one of the equal ratios; others close in on an edge
};

struct SizingFindings {
  std::string title, variant, baseline, element;
  bool invented = false;
  SizedPart part = SizedPart::grounding;
  SizedBy knob = SizedBy::line_force;
  double stated = 0.0;  ///< SI, of the case
  int samples = 0;
  unsigned long long seed = 0;
  std::vector<SizingLimit> limits;
  std::vector<SizingRow> rows;  ///< rising
  /// Rows at which every limit is kept by the share that it asks for.
  std::vector<std::size_t> inside;
  std::optional<std::size_t> cheapest;  ///< of these, the least watts
  std::string verdict;                  ///< in words
  std::vector<std::string> remarks;     ///< knee, wrong lever, least force, extrapolation
  std::vector<std::string> cautions;
};

/// Scans the knob, with the draws of all values shared, and reads the window off.
///
/// Method    every value is a variant of the case beside the baseline, through the same ensemble as
///           a trade: 9 values by equal ratios, then four more between two where a limit begins or
///           ceases to be kept, without energy and discharges over duties where no limit asks for
///           them. Scanned, not bisected: with inductance in the path less resistance can ring, so
///           a limit may be kept, broken and kept again.
/// Validity  that of every model at every force; the spread stated for the knob keeps its share of
///           the value.
/// Limits    a part is inside if its draw keeps all limits at once; unknown and part-to-part are
///           drawn together, but for a requirement that asks for a confidence: there they are kept
///           apart (ShareOfParts).
/// Accuracy  an edge is known to the step between two values: 6 % of the knob over a range of nine.
/// \throws std::invalid_argument for a variant without the part, a knob the part does not have, a
///         range that is none.
SizingFindings size_element(const Case& question, const SizingQuestion& what);

}  // namespace ohmdrag::study
