// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/factor.hpp"

#include <Eigen/SparseCholesky>

namespace wallfoot {

UpperTriangle upper_triangle(int size, std::vector<MatrixEntry>& entries) {
    // Two stable counting passes: by row, then by column.
    std::vector<int> start(size + 1, 0);
    for (const auto& e : entries) ++start[e.row + 1];
    for (int k = 0; k < size; ++k) start[k + 1] += start[k];
    std::vector<MatrixEntry> by_row(entries.size());
    for (const auto& e : entries) by_row[start[e.row]++] = e;
    entries = {};
    start.assign(size + 1, 0);
    for (const auto& e : by_row) ++start[e.column + 1];
    for (int k = 0; k < size; ++k) start[k + 1] += start[k];
    std::vector<int> end(start.begin(), start.end() - 1);
    UpperTriangle m;
    m.size = size;
    m.row.resize(by_row.size());
    m.value.resize(by_row.size());
    for (const auto& e : by_row) {
        int& at = end[e.column];
        if (at > start[e.column] && m.row[at - 1] == e.row) {
            m.value[at - 1] += e.value;
        } else {
            m.row[at] = e.row;
            m.value[at++] = e.value;
        }
    }
    int filled = 0;
    for (int c = 0; c < size; ++c) {
        const int from = start[c], to = end[c];
        start[c] = filled;
        for (int k = from; k < to; ++k, ++filled) {
            m.row[filled] = m.row[k];
            m.value[filled] = m.value[k];
        }
    }
    start[size] = filled;
    m.start = std::move(start);
    m.row.resize(filled);
    m.value.resize(filled);
    return m;
}

using Matrix = Eigen::SparseMatrix<double>;

struct Factor::Parts : Eigen::SimplicialLDLT<Matrix, Eigen::Upper, Eigen::NaturalOrdering<int>> {
    /// The library copies the matrix twice before it finds that nothing has to be ordered; this goes in behind that.
    void factor(const Matrix& upper) {
        analyzePattern_preordered(upper, true);
        factorize_preordered<true>(upper);
    }
};

Factor::Factor(const UpperTriangle& m) : parts_(std::make_unique<Parts>()) {
    const Eigen::Map<const Matrix> upper(m.size, m.size, static_cast<int>(m.row.size()), m.start.data(), m.row.data(), m.value.data());
    parts_->factor(upper);
    if (parts_->info() != Eigen::Success) throw FactorisationFailed("a pivot is zero");
}

Factor::~Factor() = default;
Factor::Factor(Factor&&) noexcept = default;

void Factor::solve(double* x) const {
    Eigen::Map<Eigen::VectorXd> map(x, parts_->rows());
    map = parts_->solve(map);
}

}  // namespace wallfoot
