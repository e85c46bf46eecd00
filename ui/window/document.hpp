// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>
#include <QStringList>
#include <QUndoStack>
#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// The open study as a value with its history. Every change makes a new study; undo keeps the earlier ones, so it
/// restores exactly whatever the act was. One act is one step.
class Document : public QObject {
    Q_OBJECT
  public:
    explicit Document(QObject* parent = nullptr);

    bool has_study() const { return study_ != nullptr; }
    std::shared_ptr<const Study> study() const { return study_; }
    std::size_t active() const { return active_; }  ///< index of the active variant
    const Variant& variant() const { return study_->variants[active_]; }
    const Section& section() const { return *variant().section; }
    QString path() const { return path_; }
    bool is_clean() const { return undo_.isClean(); }
    /// Another number for each study that was opened: what was begun for one does not end in another.
    std::uint64_t life() const { return life_; }
    QUndoStack& undo_stack() { return undo_; }

    /// Replaces study and history. `path` may be empty (never saved); `clean` = nothing is lost when it is left.
    void set_study(std::shared_ptr<const Study> study, const QString& path, bool clean = true);
    /// Reads a file. On faults the present study stays and all faults are returned; none = opened.
    /// `warnings` receives what was odd about the file.
    std::vector<Message> open(const QString& path, std::vector<Message>* warnings = nullptr);
    /// Reads a copy of unsaved work: the study counts as changed and is saved to `path` (empty: never saved).
    std::vector<Message> recover(const QString& copy, const QString& path);
    /// The study goes on without a name.
    void forget_path();
    /// Writes the study; an empty string, or the reason why the file could not be written (nothing is lost then).
    QString save(const QString& path);

    using SectionEdit = std::function<Section(const Section&)>;
    /// Applies an edit to the active variant's section as one step named `text`. A refusal changes nothing and is
    /// returned; an edit that changes nothing makes no step.
    std::vector<Message> edit(const QString& text, const SectionEdit& edit);
    /// Edits go to the other variants as well, one step for all: where a variant lacks what is edited, or the edit is refused
    /// there, it stays as it is and its name is told (left_out).
    void set_edits_all(bool all) { edits_all_ = all; }
    bool edits_all() const { return edits_all_; }
    /// Replaces the whole study as one step; `active` is the active variant afterwards.
    void change(const QString& text, Study study, std::size_t active);
    void set_active(std::size_t index);

  signals:
    void changed();           ///< study or active variant
    void opened();            ///< another study altogether
    void path_changed();
    void left_out(const QStringList& variants);  ///< those an edit of all could not be made in

  private:
    class Step;
    struct State {
        std::shared_ptr<const Study> study;
        std::size_t active = 0;
    };
    void restore(const State& state);

    std::shared_ptr<const Study> study_;
    std::size_t active_ = 0;
    QString path_;
    QUndoStack undo_;
    bool edits_all_ = false;
    std::uint64_t life_ = 0;
};

}  // namespace wallfoot
