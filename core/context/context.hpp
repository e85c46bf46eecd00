// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <atomic>
#include <functional>
#include <stdexcept>

namespace wallfoot {

/// Thrown out of a long call after its context was cancelled.
class Cancelled : public std::runtime_error {
  public:
    Cancelled() : std::runtime_error("cancelled") {}
};

/// Goes along with every long call: carries progress out and the wish to cancel in. Cancelling is permanent.
class Context {
  public:
    using Progress = std::function<void(double share_done)>;
    Context() = default;
    explicit Context(Progress progress) : progress_(std::move(progress)) {}

    void cancel() { cancelled_ = true; }
    bool cancelled() const { return cancelled_; }
    /// Throws Cancelled when somebody asked for it. Called between kernels.
    void check() const {
        if (cancelled_) throw Cancelled();
    }
    void report(double share_done) const {
        if (progress_) progress_(share_done);
    }

  private:
    std::atomic<bool> cancelled_{false};
    Progress progress_;
};

}  // namespace wallfoot
