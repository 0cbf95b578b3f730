#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

namespace ohmdrag::numerics {

/// Candidates one after another: at every step the one that, made orthogonal to all before it,
/// takes most of what is left of the outcomes, while the error with each row left out falls.
/// Source  as SparsePolynomial
class TermSelection {
 public:
  TermSelection(const Eigen::MatrixXd& candidates, const Eigen::VectorXd& outcomes)
      : all_(candidates),
        rest_(outcomes),
        left_(candidates.colwise().squaredNorm().transpose()),
        whole_(left_),
        along_(candidates.transpose() * outcomes),
        leverage_(Eigen::VectorXd::Zero(outcomes.size())) {
    take(Eigen::VectorXd::Constant(rows(), 1.0 / std::sqrt(static_cast<double>(rows()))));
    // Of an outcome that never varies nothing is left but rounding.
    squares_ = rest_.squaredNorm();
    if (squares_ < 1e-24 * outcomes.squaredNorm()) squares_ = 0.0;
  }

  /// In the order in which they were taken.
  std::vector<std::size_t> run(std::size_t most) {
    most = std::min(most, static_cast<std::size_t>(rows()) / 4);
    std::vector<std::size_t> taken;
    std::size_t best = 0;
    double least = squares_ > 0.0 ? 1.0 : 0.0;
    while (taken.size() < most && taken.size() < best + patience && least > good_enough) {
      const Eigen::Index next = best_candidate();
      if (next < 0) break;
      taken.push_back(static_cast<std::size_t>(next));
      take(orthogonal(next));
      const double error = error_left_out();
      if (error < least) {
        least = error;
        best = taken.size();
      }
    }
    taken.resize(best);
    error_ = least;
    return taken;
  }

  /// Of those that were taken: each row by all others, over the variance.
  double error() const { return error_; }

 private:
  /// Terms without a better error after which no more are tried.
  static constexpr std::size_t patience = 12;
  /// Of the variance: less error than that changes no index that anybody reads.
  static constexpr double good_enough = 1e-5;

  Eigen::Index rows() const { return rest_.size(); }

  Eigen::Index best_candidate() const {
    Eigen::Index best = -1;
    double most = 0.0;
    for (Eigen::Index j = 0; j < left_.size(); ++j) {
      // What is left of a column that those before it span is rounding.
      if (!(left_[j] > 1e-6 * whole_[j])) continue;
      const double gain = along_[j] * along_[j] / left_[j];
      if (gain > most) {
        most = gain;
        best = j;
      }
    }
    return best;
  }

  Eigen::VectorXd orthogonal(Eigen::Index candidate) const {
    Eigen::VectorXd column = all_.col(candidate);
    // Twice is enough.
    for (int pass = 0; pass < 2; ++pass)
      for (const Eigen::VectorXd& one : taken_) column -= one.dot(column) * one;
    return column / column.norm();
  }

  void take(Eigen::VectorXd column) {
    const double share = column.dot(rest_);
    rest_ -= share * column;
    const Eigen::VectorXd shared = all_.transpose() * column;
    along_ -= share * shared;
    left_ -= shared.cwiseAbs2();
    leverage_ += column.cwiseAbs2();
    taken_.push_back(std::move(column));
  }

  /// Squared error of each row by all others, corrected for few rows, over the variance.
  double error_left_out() const {
    double sum = 0.0;
    for (Eigen::Index i = 0; i < rows(); ++i) {
      const double one = rest_[i] / std::max(1.0 - leverage_[i], 1e-3);
      sum += one * one;
    }
    const double n = static_cast<double>(rows()), p = static_cast<double>(taken_.size());
    return squares_ > 0.0 ? sum / squares_ * n / (n - p) * (1.0 + p / n) : 0.0;
  }

  const Eigen::MatrixXd& all_;
  Eigen::VectorXd rest_;   ///< of the outcomes
  Eigen::VectorXd left_;   ///< of each candidate's squares
  Eigen::VectorXd whole_;  ///< its squares at first
  Eigen::VectorXd along_;  ///< each candidate over what is left of the outcomes
  Eigen::VectorXd leverage_;
  double squares_ = 0.0, error_ = 1.0;
  std::vector<Eigen::VectorXd> taken_;
};

}  // namespace ohmdrag::numerics
