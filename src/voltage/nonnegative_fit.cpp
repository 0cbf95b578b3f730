#include "voltage/nonnegative_fit.hpp"

#include <Eigen/QR>
#include <limits>
#include <stdexcept>
#include <vector>

namespace ohmdrag::voltage {

namespace {

/// Least squares over the members in use, zero for the others.
Eigen::VectorXd over(const std::vector<Eigen::Index>& used, const Eigen::MatrixXd& a,
                     const Eigen::VectorXd& b) {
  Eigen::VectorXd x = Eigen::VectorXd::Zero(a.cols());
  if (used.empty()) return x;
  const Eigen::MatrixXd columns = a(Eigen::all, used);
  const Eigen::VectorXd solved = columns.colPivHouseholderQr().solve(b);
  x(used) = solved;
  return x;
}

/// How far x can go towards the target before a member in use reaches zero, and which.
struct Stop {
  double share = 1.0;
  std::ptrdiff_t member = -1;  ///< place among the used
};
Stop way_to(const std::vector<Eigen::Index>& used, const Eigen::VectorXd& x,
            const Eigen::VectorXd& target) {
  Stop stop;
  for (std::size_t k = 0; k < used.size(); ++k) {
    const double from = x(used[k]), to = target(used[k]);
    if (to > 0.0) continue;
    const double share = from / (from - to);
    if (stop.member < 0 || share < stop.share) stop = {share, static_cast<std::ptrdiff_t>(k)};
  }
  return stop;
}

}  // namespace

Eigen::VectorXd nonnegative_fit(const Eigen::MatrixXd& whole, const Eigen::VectorXd& whole_b) {
  // The triangle of a QR has the same normal equations with far fewer rows.
  Eigen::VectorXd length = whole.colwise().norm();
  for (double& l : length)
    if (!(l > 0.0)) l = 1.0;
  Eigen::MatrixXd a = whole * length.cwiseInverse().asDiagonal();
  Eigen::VectorXd b = whole_b;
  if (a.rows() > a.cols()) {
    const Eigen::HouseholderQR<Eigen::MatrixXd> qr(a);
    b = (qr.householderQ().transpose() * b).head(a.cols()).eval();
    a = qr.matrixQR().topRows(a.cols()).triangularView<Eigen::Upper>();
  }
  const double tolerance = 1e-12 * (1.0 + b.norm());
  const Eigen::Index most_rounds = 10 * a.cols() + 100;

  std::vector<Eigen::Index> used;
  Eigen::VectorXd x = Eigen::VectorXd::Zero(a.cols());
  for (Eigen::Index round = 0; round < most_rounds; ++round) {
    Eigen::VectorXd gain = a.transpose() * (b - a * x);
    for (const Eigen::Index k : used) gain(k) = -std::numeric_limits<double>::infinity();
    Eigen::Index best = 0;
    if (!(gain.maxCoeff(&best) > tolerance)) return length.cwiseInverse().cwiseProduct(x);
    used.push_back(best);
    Eigen::VectorXd target = over(used, a, b);
    // A member that rounding alone called in would go out again for ever.
    if (!(target(best) > 0.0)) return length.cwiseInverse().cwiseProduct(x);
    for (Stop stop = way_to(used, x, target); stop.member >= 0; stop = way_to(used, x, target)) {
      x += stop.share * (target - x);
      x(used[static_cast<std::size_t>(stop.member)]) = 0.0;
      used.erase(used.begin() + stop.member);
      target = over(used, a, b);
    }
    x = target;
  }
  throw std::runtime_error("non-negative fit: the active set does not settle");
}

}  // namespace ohmdrag::voltage
