#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/threshold.hpp"

/// Every way from the shaft to the frame that a discharge may take, side by side: bearings, gear
/// meshes, the driven machine. What insulates one of them lifts the voltage on all others.
namespace ohmdrag::voltage {

enum class PathKind { bearing, gear_mesh, driven_machine, stated };
std::string_view to_word(PathKind kind);

/// Thresholds of one film: of this draw and of the spread between parts.
struct PathThreshold {
  Voltage drawn;
  ThresholdBand band;
};

/// One way from the shaft to the frame: a film that breaks down, and what stands behind it.
struct DischargePath {
  std::string_view id;  ///< lives with the case
  PathKind kind = PathKind::bearing;
  /// Across the film, with all that lies parallel to it in front of `in_series`.
  Capacitance film = {};
  /// Coat, ceramic element or the next shaft's bearings; none: the frame itself.
  std::optional<Capacitance> in_series = {};
  Capacitance beside = {};        ///< from shaft to frame past both
  bool conducting = false;        ///< metal touches where the film should be
  double film_ratio = 0.0;        ///< 0 where it is not known
  PathThreshold threshold = {};   ///< of the film alone; of no meaning while conducting
  std::optional<Area> area = {};  ///< of the contacts struck; none: no dose can be told
};

/// True if the path ties the shaft to the frame. A film that conducts in front of a coat does not:
/// the coat holds.
bool ties_to_frame(const DischargePath& path);

/// What the path adds to the capacitance of the shaft.
///
///     C = C_film C_s/(C_film + C_s) + beside;  C_s + beside behind a film that conducts
///
/// Limits    `beside` alone where the path ties the shaft to the frame: it is no capacitor then.
/// Source    derived: capacitors in series.
/// \throws std::invalid_argument if a capacitance is negative or `in_series` not positive.
Capacitance capacitance(const DischargePath& path);
/// Of all of them.
Capacitance capacitance(std::span<const DischargePath> paths);

/// Share of the shaft voltage that stands on the film.
///
///     C_s/(C_s + C_film)
///
/// Validity  fast against what leaks through the coat, slow against wave travel: the edges and
///           plateaus of an inverter.
/// Limits    1 with nothing in series, 0 on a film that conducts.
/// Source    derived: capacitive divider.
double share_on_film(const DischargePath& path);

/// Thresholds as voltages of the shaft: those of the film over share_on_film().
/// \returns none where the film conducts; breakdown of a coat is not modelled.
std::optional<PathThreshold> threshold_at_shaft(const DischargePath& path);

/// Where the shaft strikes first: the path with the lowest threshold at the shaft, in this draw, so
/// the one whose film stands under the highest share of what it holds.
/// \returns none if a path ties the shaft to the frame or no path can be struck.
std::optional<std::size_t> weakest_path(std::span<const DischargePath> paths);

}  // namespace ohmdrag::voltage
