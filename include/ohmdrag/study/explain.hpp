#pragma once

#include <memory>
#include <string>
#include <vector>

#include "ohmdrag/study/case.hpp"

/// The working of one figure, line by line, so that a reader can retype it.
namespace ohmdrag::study {

struct ExplainLine {
  enum class Kind {
    given,   ///< an input of the case or of the built-in entries
    taken,   ///< a result of a computation that nobody retypes; `source` says of which
    solved,  ///< the root of equations that further lines state and that hold at it
    step,    ///< the value of the expression
  };
  Kind kind = Kind::given;
  std::string symbol;      ///< letters, digits and _; once in a chain
  std::string meaning;     ///< what it is
  std::string expression;  ///< of a step: + - * / ^, parentheses, symbols of earlier lines, pi and
                           ///< sqrt exp ln lg asin max min
  double value = 0.0;      ///< in the unit
  std::string unit;        ///< empty: a ratio
  std::string validity;    ///< where the formula holds; empty: as its inputs
  std::string source;
  std::string key = {};   ///< of the number that a given line shows
  bool sealed = false;    ///< the value must not be shown: it is NaN
  std::string band = {};  ///< in place of a sealed number of the case, "0.01 … 0.1 N/mm"
};

struct Explanation {
  std::string figure;  ///< as it was asked for
  std::string what;
  std::vector<ExplainLine> lines;
  std::string answer;          ///< symbol of the line that is the figure
  double program_value = 0.0;  ///< of the figure, as the trade study has it; NaN: sealed
  std::string unit;
  std::vector<std::string> notes;
};

struct ExplainableFigure {
  std::string name;  ///< "net_W:dense-ring@cruise"
  std::string what;
};

/// What can be explained of a case: FIGURE:VARIANT, with @POINT where it is that of a point.
std::vector<ExplainableFigure> explainable(const Case& question);

/// The chain of a figure of the nominal case: every number at its middle.
///
/// Method    the values are those that the models hand out; each expression says how one follows
///           from the others, and holds at the printed numbers.
/// Limits    loads of all balls, tables of a standard, a response over time and the capacitance of
///           a whole bearing are taken as numbers and said to be; of a sum over a duty one stretch
///           is worked out, and the sum is stated with the number of its stretches.
/// \throws std::invalid_argument for a figure that explainable() does not name, and as evaluate()
Explanation explain(const Case& question, const std::string& figure);

/// Many figures of one case, which is evaluated once.
///
/// For a reader from whom numbers are sealed, every line that moves when these move keeps its
/// formula, source and unit and has no value, the figure itself included: out of a working with
/// numbers anybody retypes the sealed one. Given lines show a band.
///
/// derived: all sealed numbers are moved at once, each by another small part, and the chain is
/// written again; a line that is not the same to the last bit hangs on one of them. Where the moved
/// case has no such chain, every line is sealed.
class Explainer {
 public:
  explicit Explainer(const Case& question, Share reader = Share::internal);
  ~Explainer();
  Explainer(const Explainer&) = delete;
  Explainer& operator=(const Explainer&) = delete;

  std::vector<ExplainableFigure> figures() const;
  /// \throws std::invalid_argument as the function of that name
  Explanation explain(const std::string& figure) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace ohmdrag::study
