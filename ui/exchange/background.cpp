// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/exchange/background.hpp"

namespace wallfoot {

Background::Background(QObject* parent) : QObject(parent) {
    thread_ = std::jthread([this](std::stop_token stop) { work(stop); });
}

Background::~Background() = default;

void Background::run(Work work) {
    ++under_way_;
    const std::scoped_lock lock(mutex_);
    waiting_.push_back(std::move(work));
    wake_.notify_all();
}

void Background::run_instead(Work work) {
    {
        const std::scoped_lock lock(mutex_);
        under_way_ -= static_cast<int>(waiting_.size());
        waiting_.clear();
    }
    run(std::move(work));
}

void Background::work(std::stop_token stop) {
    while (!stop.stop_requested()) {
        Work next;
        {
            std::unique_lock lock(mutex_);
            if (!wake_.wait(lock, stop, [this] { return !waiting_.empty(); })) return;
            next = std::move(waiting_.front());
            waiting_.pop_front();
        }
        Done done;
        try {
            done = next();
        } catch (...) {
            // Each work tells its own troubles; one that does not must not end the window.
        }
        next = {};  // what it holds goes here, not in the window's thread
        QMetaObject::invokeMethod(
            this,
            [this, done = std::move(done)] {
                --under_way_;
                if (done) done();
            },
            Qt::QueuedConnection);
    }
}

}  // namespace wallfoot
