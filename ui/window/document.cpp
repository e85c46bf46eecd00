// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/window/document.hpp"

#include <QFile>
#include <QUndoCommand>
#include <new>
#include <set>

#include "core/file/study_file.hpp"
#include "core/study/corners.hpp"
#include "core/study/edits.hpp"
#include "ui/exchange/pdf_file.hpp"

namespace wallfoot {

/// Bookkeeping only: the new study exists before the step is pushed, so redo and undo swap pointers and cannot fail.
class Document::Step : public QUndoCommand {
  public:
    Step(Document& document, const QString& text, State before, State after)
        : QUndoCommand(text), document_(document), before_(std::move(before)), after_(std::move(after)) {}
    void undo() override { document_.restore(before_); }
    void redo() override { document_.restore(after_); }

  private:
    Document& document_;
    State before_, after_;
};

Document::Document(QObject* parent) : QObject(parent) { undo_.setUndoLimit(500); }

void Document::set_study(std::shared_ptr<const Study> study, const QString& path, bool clean) {
    ++life_;
    undo_.clear();
    undo_.setClean();
    study_ = std::move(study);
    active_ = 0;
    path_ = path;
    emit opened();
    emit changed();
    emit path_changed();
    if (clean) return;
    // Only now: until then copies of the study before are let go.
    undo_.resetClean();
    emit path_changed();
}

std::vector<Message> Document::open(const QString& path, std::vector<Message>* warnings) {
    try {
        if (path.endsWith(QStringLiteral(".pdf"), Qt::CaseInsensitive)) {
            QFile file(path);
            if (!file.open(QIODevice::ReadOnly)) throw std::runtime_error(file.errorString().toStdString());
            ReadStudy read = read_study(PdfFile(file.readAll().toStdString()).study().toStdString());
            if (warnings) *warnings = read.warnings;
            set_study(std::make_shared<const Study>(std::move(read.study)), {});
            return {};
        }
        ReadStudy read = load_study(path.toStdString());
        if (warnings) *warnings = read.warnings;
        set_study(std::make_shared<const Study>(std::move(read.study)), path);
        return {};
    } catch (const InputFault& fault) {
        return fault.faults();
    } catch (const std::exception& error) {
        return {Message{Severity::fault, "file-unreadable", {{"reason", error.what()}}, {}, {}}};
    }
}

std::vector<Message> Document::recover(const QString& copy, const QString& path) {
    if (auto faults = open(copy); !faults.empty()) return faults;
    path_ = path;
    undo_.resetClean();
    emit path_changed();
    return {};
}

void Document::forget_path() {
    path_.clear();
    emit path_changed();
}

QString Document::save(const QString& path) {
    try {
        save_study(*study_, path.toStdString());
    } catch (const std::exception& error) {
        return QString::fromUtf8(error.what());
    }
    undo_.setClean();
    path_ = path;
    emit path_changed();
    return {};
}

namespace {

std::set<std::string> ids_of(const Section& section) {
    std::set<std::string> ids;
    const auto take = [&](const auto& things) {
        for (const auto& thing : things) ids.insert(thing.id);
    };
    take(section.pieces), take(section.membranes), take(section.spaces), take(section.stretch);
    take(section.dimensions), take(section.texts), take(section.groups), take(section.underlays), take(section.hidden);
    return ids;
}

/// Ids that an edit brought.
std::set<std::string> new_ids(const Section& before, const Section& after) {
    std::set<std::string> ids = ids_of(after);
    for (const auto& id : ids_of(before)) ids.erase(id);
    return ids;
}

}  // namespace

std::vector<Message> Document::edit(const QString& text, const SectionEdit& edit) {
    if (!study_) return {};
    try {
        Study study = *study_;
        QStringList left;
        // The active one last: what an edit tells of what it made is then of this variant.
        if (edits_all_)
            for (std::size_t v = 0; v < study.variants.size(); ++v) {
                if (v == active_) continue;
                try {
                    study = with_section(study, v, edit(*study_->variants[v].section));
                } catch (const InputFault&) {
                    left << QString::fromStdString(study.variants[v].name);
                }
            }
        study = with_section(study, active_, edit(this->section()));
        // What is new must be called alike in all, or the next act would meet something else there.
        const auto made = new_ids(this->section(), *study.variants[active_].section);
        if (edits_all_)
            for (std::size_t v = 0; v < study.variants.size(); ++v) {
                const auto& before = study_->variants[v].section;
                if (v == active_ || study.variants[v].section == before || new_ids(*before, *study.variants[v].section) == made) continue;
                study.variants[v].section = before;
                left << QString::fromStdString(study.variants[v].name);
            }
        bool changed = false;
        for (std::size_t v = 0; v < study.variants.size(); ++v) {
            const Section &before = *study_->variants[v].section, &after = *study.variants[v].section;
            if (before == after) continue;
            changed = true;
            // What could not be read again must not be made.
            if (corners_of(after) > most_corners && corners_of(after) > corners_of(before)) return {Message{Severity::fault, "too-many-vertices", {}, {}, {}}};
        }
        if (!changed) return {};
        change(text, std::move(study), active_);
        if (!left.isEmpty()) emit left_out(left);
        return {};
    } catch (const InputFault& fault) {
        return fault.faults();
    } catch (const std::exception& error) {
        return {Message{Severity::fault, "edit-failed", {{"reason", error.what()}}, {}, {}}};
    }
}

void Document::change(const QString& text, Study study, std::size_t active) {
    auto after = std::make_shared<const Study>(std::move(study));
    undo_.push(new Step(*this, text, State{study_, active_}, State{std::move(after), active}));
}

void Document::set_active(std::size_t index) {
    if (!study_ || index >= study_->variants.size() || index == active_) return;
    active_ = index;
    emit changed();
}

void Document::restore(const State& state) {
    study_ = state.study;
    active_ = std::min(state.active, study_->variants.size() - 1);
    emit changed();
}

}  // namespace wallfoot
