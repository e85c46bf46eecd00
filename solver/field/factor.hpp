// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <stdexcept>
#include <vector>

namespace wallfoot {

/// One entry of the upper triangle of a symmetric matrix, row ≤ column.
struct MatrixEntry {
    int row, column;
    double value;
};

/// Upper triangle of a symmetric matrix by columns, rows ascending.
struct UpperTriangle {
    int size = 0;
    std::vector<int> start, row;
    std::vector<double> value;
};

/// Sorts the entries and sums those of equal place, in the order given: the same sum every time. Empties `entries`.
UpperTriangle upper_triangle(int size, std::vector<MatrixEntry>& entries);

struct FactorisationFailed : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// LDLᵀ factors of a symmetric positive definite matrix in the order given (no further ordering).
class Factor {
  public:
    /// Throws FactorisationFailed where a pivot is zero.
    explicit Factor(const UpperTriangle& matrix);
    ~Factor();
    Factor(Factor&&) noexcept;
    /// Solves in place.
    void solve(double* x) const;

  private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace wallfoot
