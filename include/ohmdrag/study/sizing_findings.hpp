#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"

/// The window of an element between too little and too much, as it was found.
namespace ohmdrag::study {

/// What of an element is sized. All but the forces act through the fibres' force.
enum class SizedBy { line_force, total_radial_force, interference, free_length, fibre_count };
/// Which part of a variant.
enum class SizedPart { grounding, seal };

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

}  // namespace ohmdrag::study
