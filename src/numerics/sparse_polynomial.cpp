#include "ohmdrag/numerics/sparse_polynomial.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "numerics/term_selection.hpp"
#include "ohmdrag/quantity/distribution.hpp"

namespace ohmdrag::numerics {
namespace {

constexpr std::size_t most_degree = 3, blocks = SparsePolynomial::blocks, blocks_to_choose = 6;
/// Inputs of which three stand together in a term of the usual degree.
constexpr std::size_t inputs_in_threes = 8;
/// Terms among single inputs: enough to see which inputs matter.
constexpr std::size_t first_terms = 48;
void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

/// Orthonormal polynomials of degree 1, 2 and 3.
std::array<double, most_degree> polynomials(double share, InputScale scale) {
  if (scale == InputScale::score) {
    const double z = normal_quantile(share);
    return {z, (z * z - 1.0) / std::sqrt(2.0), (z * z * z - 3.0 * z) / std::sqrt(6.0)};
  }
  const double x = 2.0 * share - 1.0;
  return {std::sqrt(3.0) * x, std::sqrt(5.0) * (1.5 * x * x - 0.5),
          std::sqrt(7.0) * (2.5 * x * x * x - 1.5 * x)};
}

}  // namespace

/// Makes one.
class PolynomialFit {
 public:
  using Term = SparsePolynomial::Term;
  using Factor = SparsePolynomial::Factor;

  PolynomialFit(const PolynomialInputs& inputs, std::span<const double> outcomes,
                const PolynomialEffort& effort)
      : inputs_(inputs),
        effort_(effort),
        rows_(std::min(std::ssize(outcomes), static_cast<Eigen::Index>(effort.most_rows))),
        to_choose_(rows_ * static_cast<Eigen::Index>(blocks_to_choose) /
                   static_cast<Eigen::Index>(blocks)),
        outcomes_(Eigen::Map<const Eigen::VectorXd>(outcomes.data(), rows_)) {}

  void fill(SparsePolynomial& result) const {
    double error = 0.0;
    result.terms_ = chosen(products(inputs_that_matter()), effort_.most_terms, &error);
    const Eigen::MatrixXd columns = with_constant(result.terms_);
    const auto terms = columns.cols();
    Eigen::MatrixXd squares = Eigen::MatrixXd::Zero(terms, terms);
    Eigen::VectorXd moments = Eigen::VectorXd::Zero(terms);
    std::vector<Eigen::MatrixXd> block_squares;
    std::vector<Eigen::VectorXd> block_moments;
    const auto fitted = [](const Eigen::MatrixXd& a, const Eigen::VectorXd& b) {
      return Eigen::VectorXd(a.ldlt().solve(b));
    };
    for (std::size_t b = 0; b < blocks; ++b) {
      if (b == blocks_to_choose)
        result.unexplained_ = std::max(error, unexplained(columns, fitted(squares, moments)));
      const auto from = rows_ * static_cast<Eigen::Index>(b) / static_cast<Eigen::Index>(blocks),
                 to = rows_ * static_cast<Eigen::Index>(b + 1) / static_cast<Eigen::Index>(blocks);
      const auto part = columns.middleRows(from, to - from);
      block_squares.emplace_back(part.transpose() * part);
      block_moments.emplace_back(part.transpose() * outcomes_.segment(from, to - from));
      squares += block_squares.back();
      moments += block_moments.back();
    }
    const auto keep = [&](const Eigen::VectorXd& all) {
      result.coefficients_.emplace_back(all.data() + 1, all.data() + all.size());
    };
    const Eigen::VectorXd whole = fitted(squares, moments);
    result.mean_ = whole[0];
    keep(whole);
    for (std::size_t b = 0; b < blocks; ++b)
      keep(fitted(squares - block_squares[b], moments - block_moments[b]));
  }

 private:
  /// In the first rows.
  Eigen::VectorXd column(const Term& term, Eigen::Index rows) const {
    Eigen::VectorXd result = Eigen::VectorXd::Ones(rows);
    for (const Factor& factor : term)
      result.array() *= Eigen::Map<const Eigen::ArrayXd>(
          inputs_.by_degree_[factor.input].data() + (factor.degree - 1) * inputs_.rows_, rows);
    return result;
  }

  /// \param error  null, or to hold what the terms leave in rows that are left out
  std::vector<Term> chosen(const std::vector<Term>& candidates, std::size_t most,
                           double* error = nullptr) const {
    constexpr auto lanes = static_cast<Eigen::Index>(column_lanes);
    Eigen::MatrixXd columns((to_choose_ + lanes - 1) / lanes * lanes,
                            static_cast<Eigen::Index>(candidates.size()));
    columns.bottomRows(columns.rows() - to_choose_).setZero();
    for (std::size_t t = 0; t < candidates.size(); ++t)
      columns.col(static_cast<Eigen::Index>(t)).head(to_choose_) =
          column(candidates[t], to_choose_);
    const Eigen::VectorXd outcomes = outcomes_.head(to_choose_);
    TermSelection selection(columns, outcomes);
    std::vector<Term> result;
    for (const std::size_t t : selection.run(most)) result.push_back(candidates[t]);
    if (error) *error = selection.error();
    return result;
  }

  /// Those that matter most first.
  std::vector<std::size_t> inputs_that_matter() const {
    std::vector<Term> candidates;
    for (std::size_t input = 0; input < inputs_.inputs(); ++input)
      for (std::size_t degree = 1; degree <= most_degree; ++degree)
        candidates.push_back({{input, degree}});
    std::vector<std::size_t> inputs;
    for (const Term& term : chosen(candidates, first_terms))
      if (inputs.size() < effort_.most_inputs &&
          std::ranges::find(inputs, term.front().input) == inputs.end())
        inputs.push_back(term.front().input);
    return inputs;
  }

  /// All terms of the third degree and less of these inputs, and all others by themselves.
  std::vector<Term> products(const std::vector<std::size_t>& inputs) const {
    std::vector<Term> terms;
    for (std::size_t input = 0; input < inputs_.inputs(); ++input) terms.push_back({{input, 1}});
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      const std::size_t a = inputs[i];
      terms.push_back({{a, 2}});
      terms.push_back({{a, 3}});
      for (std::size_t j = i + 1; j < inputs.size(); ++j) {
        const std::size_t b = inputs[j];
        terms.push_back({{a, 1}, {b, 1}});
        terms.push_back({{a, 2}, {b, 1}});
        terms.push_back({{a, 1}, {b, 2}});
        for (std::size_t k = j + 1; k < std::min(inputs.size(), inputs_in_threes); ++k)
          terms.push_back({{a, 1}, {b, 1}, {inputs[k], 1}});
      }
    }
    return terms;
  }

  Eigen::MatrixXd with_constant(const std::vector<Term>& terms) const {
    Eigen::MatrixXd columns(rows_, static_cast<Eigen::Index>(terms.size()) + 1);
    columns.col(0).setOnes();
    for (std::size_t t = 0; t < terms.size(); ++t)
      columns.col(static_cast<Eigen::Index>(t) + 1) = column(terms[t], rows_);
    return columns;
  }

  /// Of the rows after those that terms were chosen by.
  double unexplained(const Eigen::MatrixXd& columns, const Eigen::VectorXd& coefficients) const {
    const auto unseen = rows_ - to_choose_;
    const Eigen::VectorXd off = outcomes_.tail(unseen) - columns.bottomRows(unseen) * coefficients;
    const double variance =
        (outcomes_.array() - outcomes_.mean()).square().sum() / static_cast<double>(rows_);
    return variance > 1e-24 * outcomes_.squaredNorm()
               ? off.squaredNorm() / static_cast<double>(unseen) / variance
               : 0.0;
  }

  const PolynomialInputs& inputs_;
  const PolynomialEffort& effort_;
  Eigen::Index rows_, to_choose_;
  Eigen::VectorXd outcomes_;
};

PolynomialInputs::PolynomialInputs(const std::vector<std::vector<double>>& shares,
                                   std::span<const InputScale> scales) {
  require(shares.size() == scales.size(), "sparse polynomial: a scale for every input");
  if (shares.empty()) return;
  rows_ = shares.front().size();
  require(std::ranges::all_of(shares, [&](const auto& one) { return one.size() == rows_; }),
          "sparse polynomial: an input has not as many rows as the others");
  for (std::size_t input = 0; input < shares.size(); ++input) {
    std::vector<double>& columns = by_degree_.emplace_back(most_degree * rows_);
    for (std::size_t row = 0; row < rows_; ++row) {
      const auto values = polynomials(shares[input][row], scales[input]);
      for (std::size_t d = 0; d < most_degree; ++d) columns[d * rows_ + row] = values[d];
    }
  }
}

SparsePolynomial::SparsePolynomial(const PolynomialInputs& inputs, std::span<const double> outcomes,
                                   const PolynomialEffort& effort) {
  require(inputs.inputs() > 0, "sparse polynomial: no inputs");
  const std::size_t rows = std::min(outcomes.size(), effort.most_rows);
  require(rows >= fewest_rows, "sparse polynomial: too few rows");
  require(rows <= inputs.rows(), "sparse polynomial: more outcomes than rows");
  require(std::ranges::all_of(outcomes, [](double value) { return std::isfinite(value); }),
          "sparse polynomial: an outcome is not finite");
  PolynomialFit(inputs, outcomes, effort).fill(*this);
}

SobolIndices SparsePolynomial::indices(const std::vector<std::vector<std::size_t>>& groups) const {
  SobolIndices result;
  result.mean = mean_;
  for (const double c : coefficients_.front()) result.variance += c * c;
  for (const std::vector<std::size_t>& group : groups) {
    const auto inside = [&](const Factor& factor) {
      return std::ranges::find(group, factor.input) != group.end();
    };
    std::vector<double> first, total;
    for (const std::vector<double>& coefficients : coefficients_) {
      double all = 0.0, own = 0.0, touched = 0.0;
      for (std::size_t t = 0; t < terms_.size(); ++t) {
        const double variance = coefficients[t] * coefficients[t];
        all += variance;
        if (std::ranges::all_of(terms_[t], inside)) own += variance;
        if (std::ranges::any_of(terms_[t], inside)) touched += variance;
      }
      first.push_back(all > 0.0 ? own / all : 0.0);
      total.push_back(all > 0.0 ? touched / all : 0.0);
    }
    const auto error = [](const std::vector<double>& values) {
      const double mean = std::accumulate(values.begin() + 1, values.end(), 0.0) / blocks;
      double squares = 0.0;
      for (std::size_t b = 1; b <= blocks; ++b) squares += (values[b] - mean) * (values[b] - mean);
      return std::sqrt(squares * (blocks - 1.0) / blocks);
    };
    result.group.push_back({first.front(), total.front(), error(first), error(total)});
  }
  return result;
}

}  // namespace ohmdrag::numerics
