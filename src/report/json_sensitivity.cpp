#include "report/json_rows.hpp"

namespace ohmdrag::report {

Json to(const study::VarianceShare& share) {
  return {{"value", share.value}, {"low", share.low}, {"high", share.high}};
}

Json to(const study::InputMoves& row) {
  return {{"name", row.name},
          {"inputs", row.inputs},
          {"basis", to_word(row.basis)},
          {"first", to(row.first)},
          {"total", to(row.total)}};
}

Json to(const study::FigureMoves& row) {
  const bool found = !row.inputs.empty();
  return {{"figure", row.figure},
          {"unit", row.unit},
          {"mean", found ? number(row.mean) : Json()},
          {"deviation", found ? number(row.deviation) : Json()},
          {"inputs", list(row.inputs)},
          {"assumed", to(row.assumed)},
          {"evaluations", row.evaluations},
          {"remark", word_or_null(row.remark)}};
}

Json to(const study::DialStep& row) {
  return {{"kept", row.kept},
          {"opened", row.opened},
          {"chosen", word_or_null(row.chosen)},
          {"net_W", to(row.net_W)},
          {"battery_Wh_per_km", to(row.battery_Wh_per_km)},
          {"kWh_per_year", to(row.kWh_per_year)},
          {"dose_factor", to(row.dose_factor)},
          {"probability_best", row.why.empty() ? number(row.probability_best) : Json()},
          {"verdict", row.verdict},
          {"why", word_or_null(row.why)}};
}

Json to(const study::OpenedNumber& row) {
  return {{"name", row.name},
          {"basis", to_word(row.basis)},
          {"stated", row.stated},
          {"range", row.range},
          {"how", row.how}};
}

Json to(const study::RankRow& row) {
  return {{"variant", row.variant}, {"places", list(row.places)}, {"out", row.out}};
}

Json to(const study::RankPair& row) {
  return {{"ahead", row.ahead},
          {"behind", row.behind},
          {"holds", row.holds},
          {"turned", row.turned},
          {"undecided", row.undecided}};
}

Json to(const study::ChangedInput& row) {
  return {{"name", row.name},
          {"from", row.from},
          {"to", row.to},
          {"scores", number(row.scores)},
          {"basis", to_word(row.basis)}};
}

Json to(const study::Flip& flip) {
  return {{"because", flip.because},
          {"becomes", word_or_null(flip.becomes)},
          {"distance", number(flip.distance)},
          {"probability", number(flip.probability)},
          {"inputs", list(flip.inputs)}};
}

Json to(const study::StressTest& test) {
  return {{"recommendation", word_or_null(test.recommendation)},
          {"middle_differs", test.middle_differs},
          {"at_middle", word_or_null(test.at_middle)},
          {"nearest", to(test.nearest)},
          {"single", list(test.single)},
          {"searched_to", number(test.searched_to)},
          {"evaluations", test.evaluations},
          {"remark", word_or_null(test.remark)},
          {"sentences", test.sentences}};
}

Json to(const study::SensitivityFindings& found) {
  return {{"figures", list(found.figures)}, {"dial", list(found.dial)},
          {"opened", list(found.opened)},   {"dial_sentence", found.dial_sentence},
          {"ranks", list(found.ranks)},     {"rank_pairs", list(found.rank_pairs)},
          {"stress", to(found.stress)},     {"argument_against", found.argument_against}};
}

}  // namespace ohmdrag::report
