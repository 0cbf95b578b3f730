// How sure a result is: shares of parts with confidence, still ends, first order.
#include "report/json_rows.hpp"

namespace ohmdrag::report {
namespace {

const char* word_of(study::ShareOfParts::Way way) {
  using enum study::ShareOfParts::Way;
  switch (way) {
    case nested:
      return "nested";
    case order_statistics:
      return "order-statistics";
    case alike:
      return "alike";
    case none:
      break;
  }
  return "none";
}

const char* word_of(study::FirstOrderRow::Verdict verdict) {
  using enum study::FirstOrderRow::Verdict;
  switch (verdict) {
    case valid:
      return "valid";
    case not_valid:
      return "not-valid";
    case not_settled:
      break;
  }
  return "not-settled";
}

}  // namespace

Json to(const study::ShareOfParts& row) {
  return {{"way", word_of(row.way)},
          {"share_asked", row.share_asked},
          {"confidence_asked", row.confidence_asked},
          {"share", to(row.share)},
          {"share_at_confidence", number(row.share_at_confidence)},
          {"confidence_of_share", number(row.confidence_of_share)},
          {"states", row.states},
          {"parts_in_each", row.parts},
          {"share_known_to", row.share_known_to},
          {"confidence_known_to", row.confidence_known_to},
          {"remark", word_or_null(row.remark)}};
}

Json to(const study::StableEnd& row) {
  return {{"variant", row.variant},
          {"figure", row.figure},
          {"unit", row.unit},
          {"low_error", number(row.low_error)},
          {"high_error", number(row.high_error)},
          {"tolerance", number(row.tolerance)},
          {"still", row.still}};
}

Json to(const study::Stability& stability) {
  return {{"digits", stability.digits},
          {"blocks", stability.blocks},
          {"samples_a_block", stability.block},
          {"still", stability.still},
          {"figures", list(stability.figures)}};
}

Json to(const study::FirstOrderRow& row) {
  return {{"variant", row.variant},
          {"figure", row.figure},
          {"unit", row.unit},
          {"estimate", number(row.estimate)},
          {"standard_uncertainty", number(row.standard_uncertainty)},
          {"first_order", to(row.first_order)},
          {"ensemble", to(row.ensemble)},
          {"tolerance", number(row.tolerance)},
          {"low_difference", number(row.low_difference)},
          {"high_difference", number(row.high_difference)},
          {"ends_known_to", number(row.ends_known_to)},
          {"verdict", word_of(row.verdict)},
          {"because", word_or_null(row.because)}};
}

}  // namespace ohmdrag::report
