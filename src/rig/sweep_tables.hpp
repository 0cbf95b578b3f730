#pragma once

#include "ohmdrag/rig/sweep_run.hpp"

/// Tables of the findings of an impedance sweep.
namespace ohmdrag::rig {

RunTable specimen_table(const SweepRunFit& fit);  ///< each of three contacts
RunTable course_table(const SweepRunFit& fit);    ///< impedance at the decades
RunTable model_table(const SweepRunFit& fit);     ///< models side by side
RunTable point_table(const SweepRunFit& fit);     ///< every point, without fixture

}  // namespace ohmdrag::rig
