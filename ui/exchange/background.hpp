// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>
#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>

namespace wallfoot {

/// Work that the window does not wait for: one piece after the other, on one thread of its own. To be called from the
/// window's thread only.
class Background : public QObject {
  public:
    using Done = std::function<void()>;  ///< runs in the window's thread, unless this is gone by then
    using Work = std::function<Done()>;  ///< runs on the thread; knows nothing that may be gone by then. What it throws ends it, and nothing is told
    explicit Background(QObject* parent = nullptr);
    /// Waits for the work at hand; what waits for its turn is dropped.
    ~Background() override;

    /// After what waits.
    void run(Work work);
    /// In the place of what waits.
    void run_instead(Work work);
    /// Nothing is under way or still to be told.
    bool idle() const { return under_way_ == 0; }

  private:
    void work(std::stop_token stop);

    int under_way_ = 0;
    std::mutex mutex_;
    std::condition_variable_any wake_;
    std::deque<Work> waiting_;
    std::jthread thread_;  ///< last: starts when all else exists
};

}  // namespace wallfoot
