#include "ohmdrag/study/band_words.hpp"

namespace ohmdrag::study {

std::string_view band_statement() {
  return "With the entered impedance the model predicts that the voltage between shaft and housing "
         "falls in each band by at least the decibels shown, against the shaft without the path; "
         "negative: it rises. The model is lumped, with one common-mode voltage all along the "
         "winding, and an impedance holds for the state in which it was measured. Other ways out "
         "(cables, housing, the other end of the shaft) may dominate, so an emission may fall by "
         "less, not at all, or move towards the resonance of path and shaft. No class or limit is "
         "claimed.";
}

}  // namespace ohmdrag::study
