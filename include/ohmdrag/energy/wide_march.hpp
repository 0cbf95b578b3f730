#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/energy/march.hpp"
#include "ohmdrag/numerics/lane_width.hpp"

namespace ohmdrag::energy {

/// One sample of a wide march: a shaft with what rubs on it, over its sump.
struct WideSample {
  component::ShaftSystem shaft;
  SumpDuty sump;
  Temperature dry;  ///< air at the dry side
};

/// How a wide march comes by the heat of its contacts.
enum class WideForm {
  solved,     ///< every stretch solved
  tabulated,  ///< solved at nodes of speed and oil, looked up in between
};

struct WideMarchSettings {
  WideForm form = WideForm::tabulated;
  numerics::LaneWidth width = numerics::widest_lanes();
};

/// What a wide march took.
struct WideEffort {
  std::size_t solves = 0;       ///< shafts settled
  std::size_t evaluations = 0;  ///< of a film's friction
};

/// What a wide march gives back, sample by sample in one array a quantity.
struct WideLedger {
  std::size_t samples = 0;
  std::size_t contacts = 0;
  /// [phase][duty::Drive][contact][sample], as PhaseLedger::by_part.
  std::vector<double> contact_J;
  std::vector<double> oil_at_end_K;  ///< [sample]
  std::vector<double> into_sump_J;   ///< [sample], from the contacts
  WideEffort effort;                 ///< of all samples together

  std::span<const double> of_contact_J(std::size_t phase, duty::Drive drive,
                                       std::size_t contact) const {
    const std::size_t row = (phase * 3 + static_cast<std::size_t>(drive)) * contacts + contact;
    return std::span(contact_J).subspan(row * samples, samples);
  }
  /// Over all phases and states of the drive.
  double whole_J(std::size_t contact, std::size_t sample) const;
};

/// march() of one shaft for many samples side by side: what differs from sample to sample are the
/// shaft, its contacts and oil and the sump; the duty is the same for all.
///
/// Tabulated, the torque of every contact and the heat into the oil, which hang on nothing but
/// speed and oil temperature, are solved at 16 Chebyshev speeds, at rest, and at six oil
/// temperatures of every stretch of the oil's way (up to 42 K, ended where a modulus table has a
/// point), and looked up between them: a polynomial of the fifth degree in the oil, a cubic in the
/// speed. A duty of no more than 16 speeds is solved at those.
///
/// Validity  as march(); the samples' shafts are of one shape (component::WideShaft); reference
///           speed and exponent of the air stream are the same for all; bearings, gears and tables
///           are no part of it: their heat is in `other_heat`. Tabulated, below a 2500th of the
///           highest speed a torque is that of this speed.
/// Limits    as march(). Held oil: no memory.
/// Accuracy  solved: 1e-11 against march(). Tabulated: 4e-7 of the energies of lips and rings and
///           1e-8 of the final oil temperature (WLTC class 3b, 2000 invented samples), 1e-6 over a
///           sine of speeds that stops and starts at a crawl; PTFE, whose law has corners in speed,
///           1e-4. Nothing watches this at run time: hold another duty against `solved` first.
/// Source    derived.
///
/// \param sample   makes one sample; called from several threads, for the first sample twice
/// \param shaft    whose speed the stretches name
/// \param phases   number of phases the stretches name
/// \throws std::invalid_argument as march() and component::WideShaft, for no sample, or a stretch
///         with a dry side of its own; std::domain_error "thermally unstable" as solve().
WideLedger wide_march(std::size_t samples, const std::function<WideSample(std::size_t)>& sample,
                      std::span<const Stretch> duty, std::size_t shaft, std::size_t phases,
                      const WideMarchSettings& settings = {});

}  // namespace ohmdrag::energy
