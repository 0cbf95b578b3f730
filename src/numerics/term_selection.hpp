#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include "numerics/column_products.hpp"

namespace ohmdrag::numerics {

/// Candidates one after another: at every step the one that, made orthogonal to all before it,
/// takes most of what is left of the outcomes, while the error with each row left out falls.
/// Source  as SparsePolynomial
class TermSelection {
 public:
  /// \param candidates  columns of as many rows as outcomes, filled up with zeros to a multiple of
  ///                    column_lanes
  TermSelection(const Eigen::MatrixXd& candidates, const Eigen::VectorXd& outcomes)
      : all_(candidates),
        rows_(outcomes.size()),
        rest_(Eigen::VectorXd::Zero(candidates.rows())),
        left_(candidates.colwise().squaredNorm().transpose()),
        whole_(left_),
        leverage_(Eigen::VectorXd::Zero(candidates.rows())) {
    rest_.head(rows_) = outcomes;
    along_ = products(all_, all_.cols(), rest_);
    Eigen::VectorXd constant = Eigen::VectorXd::Zero(all_.rows());
    constant.head(rows_).setConstant(1.0 / std::sqrt(static_cast<double>(rows_)));
    take(constant);
    // Of an outcome that never varies nothing is left but rounding.
    squares_ = rest_.squaredNorm();
    if (squares_ < 1e-24 * outcomes.squaredNorm()) squares_ = 0.0;
  }

  /// In the order in which they were taken.
  std::vector<std::size_t> run(std::size_t most) {
    most = std::min(most, static_cast<std::size_t>(rows_) / 4);
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

  /// Of the first columns with a vector.
  static Eigen::VectorXd products(const Eigen::MatrixXd& columns, Eigen::Index count,
                                  const Eigen::VectorXd& by) {
    Eigen::VectorXd result(count);
    column_products(columns.data(), static_cast<std::size_t>(columns.rows()),
                    static_cast<std::size_t>(count), by.data(), result.data());
    return result;
  }

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
    // What it shares with those before it is known; twice is enough.
    Eigen::VectorXd shares(taken_);
    for (Eigen::Index t = 0; t < taken_; ++t) shares[t] = shared_(candidate, t);
    for (int pass = 0; pass < 2; ++pass) {
      if (pass > 0) shares = products(basis_, taken_, column);
      subtract_columns(basis_.data(), static_cast<std::size_t>(basis_.rows()),
                       static_cast<std::size_t>(taken_), shares.data(), column.data());
    }
    return column / column.norm();
  }

  void take(const Eigen::VectorXd& column) {
    if (taken_ == basis_.cols()) {
      const Eigen::Index room = std::max<Eigen::Index>(16, 2 * taken_);
      basis_.conservativeResize(all_.rows(), room);
      shared_.conservativeResize(all_.cols(), room);
    }
    const double share = column.dot(rest_);
    rest_ -= share * column;
    const Eigen::VectorXd shared = products(all_, all_.cols(), column);
    along_ -= share * shared;
    left_ -= shared.cwiseAbs2();
    leverage_ += column.cwiseAbs2();
    basis_.col(taken_) = column;
    shared_.col(taken_) = shared;
    ++taken_;
  }

  /// Squared error of each row by all others, corrected for few rows, over the variance.
  double error_left_out() const {
    double sum = 0.0;
    for (Eigen::Index i = 0; i < rows_; ++i) {
      const double one = rest_[i] / std::max(1.0 - leverage_[i], 1e-3);
      sum += one * one;
    }
    const double n = static_cast<double>(rows_), p = static_cast<double>(taken_);
    return squares_ > 0.0 ? sum / squares_ * n / (n - p) * (1.0 + p / n) : 0.0;
  }

  const Eigen::MatrixXd& all_;
  Eigen::Index rows_;
  Eigen::VectorXd rest_;   ///< of the outcomes
  Eigen::VectorXd left_;   ///< of each candidate's squares
  Eigen::VectorXd whole_;  ///< its squares at first
  Eigen::VectorXd along_;  ///< each candidate over what is left of the outcomes
  Eigen::VectorXd leverage_;
  double squares_ = 0.0, error_ = 1.0;
  // Columns up to taken_: those taken, made orthogonal, and each candidate over them.
  Eigen::Index taken_ = 0;
  Eigen::MatrixXd basis_, shared_;
};

}  // namespace ohmdrag::numerics
