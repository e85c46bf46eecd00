// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>
#include <condition_variable>
#include <cstdint>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

#include "core/study/study.hpp"
#include "core/context/context.hpp"
#include "core/water/report.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot {

/// What the worker has to say about one variant of one revision of the study.
struct Answer {
    std::uint64_t revision = 0;
    std::size_t variant = 0;                   ///< index in the study that was asked about
    std::string variant_id;
    std::shared_ptr<const Section> section;    ///< the drawing it belongs to
    std::shared_ptr<const Findings> findings;  ///< null when `faults` says why
    std::vector<Message> faults;               ///< the study lacks what it needs, or the program failed
    bool at_rest = false;                      ///< false: coarse, or refinement was cut short
};

/// How exact an answer is wanted (brackets of FindingsOptions).
enum class Wish {
    at_rest,        ///< as on the command line, and the other variants after it
    while_dragging  ///< wide enough to follow the mouse; the active variant only, never kept
};

/// Works variants out on one thread of its own; the window never waits for it. The latest wish wins: a coarse answer of
/// the active variant that has begun is finished and told, only its refinement is cancelled by a newer wish (RULES 8).
/// After the active variant the others follow. Answers at rest are kept, so that undo shows the earlier one at once.
class Worker : public QObject {
    Q_OBJECT
  public:
    using Find = std::function<std::shared_ptr<const Findings>(const Study&, const Variant&, const FindingsOptions&, const Context&)>;
    explicit Worker(Find find = {}, QObject* parent = nullptr);
    ~Worker() override;

    /// Returns the revision of this wish; revisions grow.
    std::uint64_t ask(std::shared_ptr<const Study> study, std::size_t active, Wish wish = Wish::at_rest);
    /// A kept answer at rest for this very input, or null. Fast: to be called from the window's thread.
    std::shared_ptr<const Findings> kept(const Study& study, std::size_t variant) const;
    void forget();

  signals:
    /// In the window's thread, in the order of the work. Answers of a revision older than one already told for the same
    /// variant are dropped.
    void answered(const wallfoot::Answer& answer);
    /// The water's way of the active variant, after its answer at rest; null where it cannot be followed: see `faults`.
    void water_followed(std::shared_ptr<const wallfoot::WaterReport> report, const std::vector<wallfoot::Message>& faults);
    void idle(std::uint64_t revision);  ///< everything asked has been told

  private:
    struct Job {
        std::uint64_t revision = 0;
        std::shared_ptr<const Study> study;
        std::size_t active = 0;
        Wish wish = Wish::at_rest;
    };
    struct Kept {
        std::shared_ptr<const Study> study;
        std::shared_ptr<const Section> section;
        std::shared_ptr<const Findings> findings;
    };

    void run(std::stop_token stop);
    void work_out(const Job& job, std::size_t variant, bool is_active);
    void follow_water(const Job& job);
    bool outdated(std::uint64_t revision) const;
    void keep(const Job& job, std::size_t variant, std::shared_ptr<const Findings> findings);
    void tell(Answer answer);

    Find find_;
    mutable std::mutex mutex_;
    std::condition_variable_any wake_;
    std::optional<Job> waiting_;
    std::uint64_t newest_ = 0;
    Context* running_ = nullptr;  ///< of the solve in hand
    bool may_cancel_ = false;     ///< the coarse answer is told, or it is not the active variant
    mutable std::list<Kept> kept_;  ///< newest first; once more under each other name that was asked for
    std::vector<std::pair<std::string, std::uint64_t>> told_;  ///< window's thread only
    std::jthread thread_;         ///< last: starts when all else exists
};

}  // namespace wallfoot
Q_DECLARE_METATYPE(wallfoot::Answer)
