// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/window/worker.hpp"

#include "core/file/quantities.hpp"
#include "core/study/site.hpp"

#include <algorithm>

namespace wallfoot {

namespace {

/// Findings at rest are a few megabytes each.
constexpr std::size_t most_kept = 24;

std::string kept_part(const Study& study, const char* name) {
    const auto part = study.kept.find(name);
    return part == study.kept.end() ? std::string() : part->second;
}

/// Everything but the drawings that findings depend on; of the building that is the floor's width alone, of the parts kept as
/// they were read the rule sets alone.
bool same_inputs(const Study& a, const Study& b) {
    return &a == &b || (a.convention == b.convention && a.conventions == b.conventions && a.materials == b.materials &&
                        a.floor_width == b.floor_width && a.site == b.site && site_value(a, "use") == site_value(b, "use") && a.climate == b.climate && kept_part(a, "rule_sets") == kept_part(b, "rule_sets") && ground_floor(a) == ground_floor(b) && stated_floor_edge(a) == stated_floor_edge(b));
}

}  // namespace

Worker::Worker(Find find, QObject* parent)
    : QObject(parent), find_(std::move(find)) {
    if (!find_)
        find_ = [](const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) {
            return wallfoot::find(study, variant, options, context);
        };
    thread_ = std::jthread([this](std::stop_token stop) { run(stop); });
}

Worker::~Worker() {
    thread_.request_stop();
    {
        const std::scoped_lock lock(mutex_);
        ++newest_;
        if (running_) running_->cancel();
    }
    wake_.notify_all();
}

std::uint64_t Worker::ask(std::shared_ptr<const Study> study, std::size_t active, Wish wish) {
    const std::scoped_lock lock(mutex_);
    waiting_ = Job{++newest_, std::move(study), active, wish};
    if (running_ && may_cancel_) running_->cancel();
    wake_.notify_all();
    return newest_;
}

namespace {

/// Findings of the same drawing under the name of this variant: it may have been renamed, or be a copy of another.
std::shared_ptr<const Findings> under_its_name(const Findings& findings, const Variant& variant) {
    auto named = std::make_shared<Findings>(findings);
    named->variant_id = variant.id;
    named->variant_name = variant.name;
    return named;
}

}  // namespace

std::shared_ptr<const Findings> Worker::kept(const Study& study, std::size_t variant) const {
    const std::scoped_lock lock(mutex_);
    const auto& section = study.variants.at(variant).section;
    const auto fits = [&](const Kept& entry) { return entry.section == section && same_inputs(*entry.study, study); };
    const auto named = [&](const Kept& entry) { return entry.findings->variant_id == study.variants[variant].id && entry.findings->variant_name == study.variants[variant].name; };
    auto found = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& entry) { return fits(entry) && named(entry); });
    if (found != kept_.end()) return found->findings;
    found = std::find_if(kept_.begin(), kept_.end(), fits);
    if (found != kept_.end()) {
        auto renamed = under_its_name(*found->findings, study.variants[variant]);
        kept_.insert(std::next(found), {found->study, section, renamed});
        if (kept_.size() > most_kept) kept_.pop_back();
        return renamed;
    }
    return nullptr;
}

void Worker::forget() {
    const std::scoped_lock lock(mutex_);
    kept_.clear();
    told_.clear();
}

bool Worker::outdated(std::uint64_t revision) const {
    const std::scoped_lock lock(mutex_);
    return revision != newest_;
}

void Worker::run(std::stop_token stop) {
    while (!stop.stop_requested()) {
        Job job;
        {
            std::unique_lock lock(mutex_);
            if (!wake_.wait(lock, stop, [this] { return waiting_.has_value(); })) return;
            job = *std::exchange(waiting_, std::nullopt);
        }
        work_out(job, job.active, true);
        if (job.wish == Wish::at_rest) follow_water(job);
        if (job.wish == Wish::at_rest)
            for (std::size_t v = 0; v < job.study->variants.size() && !outdated(job.revision); ++v)
                if (v != job.active) work_out(job, v, false);
        const std::uint64_t revision = job.revision;
        if (!outdated(revision)) QMetaObject::invokeMethod(this, [this, revision] { emit idle(revision); }, Qt::QueuedConnection);
    }
}

void Worker::work_out(const Job& job, std::size_t index, bool is_active) {
    const Variant& variant = job.study->variants[index];
    Answer answer{job.revision, index, variant.id, variant.section, kept(*job.study, index), {}, true};
    if (answer.findings) {
        keep(job, index, answer.findings);
        tell(std::move(answer));
        return;
    }
    Context context;
    {
        const std::scoped_lock lock(mutex_);
        running_ = &context;
        may_cancel_ = !is_active;
        if (may_cancel_ && job.revision != newest_) context.cancel();
    }
    FindingsOptions options;
    if (job.wish == Wish::while_dragging) options.tolerance = dragging_tolerance;
    options.seasons = job.wish == Wish::at_rest && states_year(*job.study);
    options.floor_widths = job.wish == Wish::at_rest;
    if (is_active)
        options.on_coarse = [&](std::shared_ptr<const Findings> coarse) {
            Answer first = answer;
            first.findings = std::move(coarse);
            first.at_rest = false;
            tell(std::move(first));
            const std::scoped_lock lock(mutex_);
            may_cancel_ = true;
            if (job.revision != newest_) context.cancel();
        };
    bool cancelled = false;
    try {
        answer.findings = find_(*job.study, variant, options, context);
        answer.at_rest = !context.cancelled() && job.wish == Wish::at_rest;
    } catch (const Cancelled&) {
        cancelled = true;
    } catch (const InputFault& fault) {
        answer.faults = fault.faults();
    } catch (const std::exception& error) {
        answer.faults = {Message{Severity::fault, "solve-failed", {{"reason", error.what()}}, {}, {}}};
    }
    {
        const std::scoped_lock lock(mutex_);
        running_ = nullptr;
    }
    if (cancelled) return;
    if (answer.findings && answer.at_rest) keep(job, index, answer.findings);
    tell(std::move(answer));
}

void Worker::follow_water(const Job& job) {
    Context context;
    {
        const std::scoped_lock lock(mutex_);
        if (job.revision != newest_) return;
        running_ = &context;
        may_cancel_ = true;
    }
    std::shared_ptr<const WaterReport> report;
    std::vector<Message> faults;
    try {
        report = std::make_shared<const WaterReport>(water_report(*job.study, job.study->variants[job.active], context));
    } catch (const Cancelled&) {
        // Another wish follows; its revision is newer, so nothing of this one is told.
    } catch (const InputFault& fault) {
        faults = fault.faults();
    } catch (const std::exception& error) {
        faults = {Message{Severity::fault, "solve-failed", {{"reason", error.what()}}, {}, {}}};
    }
    {
        const std::scoped_lock lock(mutex_);
        running_ = nullptr;
    }
    const std::uint64_t revision = job.revision;
    QMetaObject::invokeMethod(this, [this, report, faults, revision] {
        if (!outdated(revision)) emit water_followed(report, faults);
    }, Qt::QueuedConnection);
}

void Worker::keep(const Job& job, std::size_t variant, std::shared_ptr<const Findings> findings) {
    const auto& section = job.study->variants[variant].section;
    const std::scoped_lock lock(mutex_);
    kept_.remove_if([&](const Kept& entry) { return entry.section == section; });
    kept_.push_front({job.study, section, std::move(findings)});
    if (kept_.size() > most_kept) kept_.pop_back();
}

void Worker::tell(Answer answer) {
    QMetaObject::invokeMethod(
        this,
        [this, answer = std::move(answer)] {
            auto known = std::find_if(told_.begin(), told_.end(), [&](const auto& entry) { return entry.first == answer.variant_id; });
            if (known == told_.end()) known = told_.insert(told_.end(), {answer.variant_id, 0});
            if (answer.revision < known->second) return;
            known->second = answer.revision;
            emit answered(answer);
        },
        Qt::QueuedConnection);
}

}  // namespace wallfoot
