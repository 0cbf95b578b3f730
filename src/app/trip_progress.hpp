#pragma once

#include "ohmdrag/study/evaluate.hpp"

namespace ohmdrag::app {

/// Says on standard error how many of how many measured trips are done and how long the rest takes,
/// in one line that is wiped at the end. Says nothing where that is no terminal.
study::TripProgress trip_progress();

}  // namespace ohmdrag::app
