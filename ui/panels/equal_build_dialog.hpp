// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <memory>
#include <vector>

#include "core/context/context.hpp"
#include "solver/findings/equal_build.hpp"
#include "ui/panels/compared.hpp"

class QComboBox;
class QLabel;
class QPushButton;

namespace wallfoot {

/// Changes a measure of one variant until an element has the U or the thickness that it has in the one compared with, and
/// offers the outcome as a variant.
class EqualBuildDialog : public QDialog {
    Q_OBJECT
  public:
    /// `variants`: those of one study that have findings; `base`: key of the one compared with.
    EqualBuildDialog(std::vector<Compared> variants, const QString& base, QWidget* parent = nullptr);
    ~EqualBuildDialog() override;

    QComboBox& variant() { return *variant_; }
    QComboBox& measure() { return *measure_; }
    QComboBox& element() { return *element_; }
    QComboBox& alike() { return *alike_; }
    QLabel& told() { return *told_; }
    QPushButton& make() { return *make_; }
    bool busy() const { return running_ != nullptr; }

    const Compared* changed() const;                                ///< the variant that is changed; null without any
    std::shared_ptr<const Section> section() const { return section_; }  ///< of the outcome; null: not reachable or not yet known
    QString outcome_name() const;                                   ///< of the variant to be made

  private:
    void offer();
    void ask();
    void show_outcome(const EqualBuild& found);

    std::vector<Compared> others_;
    Compared base_;
    std::shared_ptr<const Section> section_;
    std::shared_ptr<Context> running_;
    QThreadPool pool_;
    QComboBox *variant_, *measure_, *element_, *alike_;
    QLabel* told_;
    QPushButton* make_;
};

}  // namespace wallfoot
