#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/waveform.hpp"

/// A common mode as an oscilloscope saw it, and the edges in it.
namespace ohmdrag::voltage {

struct VoltageSample {
  Time at;
  Voltage value;
};

/// A record taken as one period of a waveform that repeats.
struct MeasuredWaveform {
  Waveform waveform;       ///< straight lines from sample to sample
  Frequency silent_above;  ///< half the lowest sampling rate: the samples say nothing above it
  Voltage range;           ///< highest less lowest value
  Voltage mismatch;        ///< value a period after the first sample, less the first
};

/// Straight lines through the samples over one period. Samples need not stand at equal distances.
///
/// Validity  the record begins anywhere in the period and repeats. What lies between two samples is
///           not known: harmonics near silent_above and higher are those of the straight lines.
/// Limits    a mismatch is bridged by a straight line over the last sampling interval: a step that
///           the source did not make.
/// Accuracy  that of the record.
/// Source    definition; half the sampling rate: Shannon, Proc. IRE 37, 1949, 10-21 (from memory).
///
/// \param samples  strictly rising times, at least three
/// \param period   none: the whole record is one period and its last sample begins the next one;
///                 what the record holds beyond one period is not used
/// \throws std::invalid_argument for fewer than three samples in the period, times that do not
/// rise,
///         values that are not finite, a period that is not positive or longer than the record.
MeasuredWaveform measured_waveform(std::span<const VoltageSample> samples,
                                   std::optional<Time> period = {});

/// A step of a waveform.
struct FoundEdge {
  Time middle;   ///< where the voltage passes half the step
  Voltage step;  ///< signed, between the mean levels before and after
  Time rise;     ///< from 10 to 90 % of the step
  int pieces;    ///< straight pieces, whole or in part, between 10 and 90 %
};

/// Where and how a waveform steps, in order of time.
///
/// Between any sample and the next one a tenth of the range away the line has a slope; where it is
/// at least a third of the steepest there is an edge, and slopes of one sign that overlap are one
/// edge. The level between two edges is the mean over the later half of the time between them, so
/// that ringing averages out.
///
/// Validity  edges some rise times apart. Ringing steeper than a third of the steepest edge is
/// taken
///           for edges of its own.
/// Limits    none for a waveform without steps (level, or a single sine).
/// Source    assumed rule; 10 to 90 % by definition of a rise time.
/// \throws std::invalid_argument for an undefined waveform.
std::vector<FoundEdge> edges_of(const Waveform& waveform);

/// What to know before trusting the record: a mismatch, a fastest edge of few samples. Empty: none.
std::vector<std::string> cautions_of(const MeasuredWaveform& measured);

}  // namespace ohmdrag::voltage
