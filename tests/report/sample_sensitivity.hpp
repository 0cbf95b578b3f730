#pragma once

#include "ohmdrag/study/sensitivity_findings.hpp"

/// Sensitivities built by hand: every figure is invented and none is meant to be physical.
namespace ohmdrag::test {

inline study::SensitivityFindings sample_sensitivity() {
  study::SensitivityFindings found;
  study::FigureMoves watts;
  watts.figure = "net W of dense-ring at cruise";
  watts.unit = "W";
  watts.mean = 5.31;
  watts.deviation = 1.09;
  watts.evaluations = 2310;
  watts.inputs = {
      {"contact.textile-ring-dense.friction",
       1,
       Basis::unverified,
       {0.684, 0.612, 0.757},
       {0.713, 0.655, 0.772}},
      {"all others", 113, Basis::assumed, {-0.004, -0.021, 0.013}, {0.006, 0.002, 0.0104}}};
  watts.assumed = study::VarianceShare{0.967, 0.921, 1.013};
  study::FigureMoves still;
  still.figure = "discharge dose of plain at cruise";
  still.unit = "lg W/m^2";
  still.remark = "no uncertain number moves it";
  found.figures = {watts, still};

  study::DialStep stated;
  stated.kept = "all numbers as stated";
  stated.chosen = "dense-ring";
  stated.net_W = Interval{3.41, 5.27, 7.19};
  stated.battery_Wh_per_km = Interval{0.0432, 0.0691, 0.1018};
  stated.dose_factor = Interval{1.01, 3.22, 5140.0};
  stated.probability_best = 0.475;
  stated.verdict = "the discharge dose falls";
  study::DialStep opened = stated;
  opened.kept = "common-practice or better";
  opened.opened = 87;
  opened.chosen.clear();
  opened.probability_best = 0.225;
  study::DialStep refused;
  refused.kept = "handbook or better";
  refused.opened = 93;
  refused.why = "variant dense-ring: the contact is thermally unstable";
  found.dial = {stated, opened, refused};
  found.opened = {{"discharge.pulse_credit", Basis::assumed, "300 ns", "300 (100 … 900) ns",
                   "×/÷ 3, common practice, no source"}};
  found.dial_sentence = "The answer stands down from dense-ring to no variant.";
  found.ranks = {{"dense-ring", {0.475, 0.0}, 0.525}, {"plain", {0.0, 0.0}, 1.0}};
  found.rank_pairs = {{"dense-ring", "plain", 0.475, 0.0, 0.525}};

  study::StressTest& stress = found.stress;
  stress.recommendation = stress.at_middle = "dense-ring";
  stress.searched_to = 3.0;
  stress.evaluations = 431;
  stress.nearest =
      study::Flip{"dense-ring no longer halves the discharge dose",
                  "",
                  0.43,
                  0.334,
                  {{"discharge.roughness", "0.1 um", "0.12 um", 0.43, Basis::assumed}}};
  stress.single = {*stress.nearest};
  stress.sentences = {
      "0.43 standard uncertainties overturn it: discharge.roughness 0.1 um → 0.12 um."};
  found.argument_against = "dense-ring is the best answer in only 47.5 % of the draws.";
  return found;
}

}  // namespace ohmdrag::test
