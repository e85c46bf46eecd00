// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QTreeWidget>
#include <memory>

#include "solver/findings/findings.hpp"

namespace wallfoot {

/// Everything computed from the active variant in groups; each row opens to how it was worked out.
class FindingsPanel : public QTreeWidget {
    Q_OBJECT
  public:
    explicit FindingsPanel(QWidget* parent = nullptr);
    /// `faults`: what has to be settled first, in the order of the marks on the drawing.
    void show_findings(std::shared_ptr<const Findings> findings, const std::vector<Message>& to_settle);
    void show_working();

  signals:
    void place_chosen(const wallfoot::Point& place);
    void element_chosen(const QString& element);  ///< a row of a flanking element

  private:
    struct Row {
        QString what, value;
        std::optional<Point> at;
    };
    QTreeWidgetItem* group(const QString& name);
    QTreeWidgetItem* add(QTreeWidgetItem* parent, const Row& row);
    void add_messages(const Findings* findings, const std::vector<Message>& to_settle);
    void add_psi(const Findings& findings);
    void add_surface(const Findings& findings);
    void add_verdicts(const Findings& findings);
    void add_seasons(const Findings& findings);
    void add_flows(const Findings& findings);
    void add_elements(const Findings& findings);
    void add_derivations(const Findings& findings);
    void remember_open();
    QStringList open_;
};

}  // namespace wallfoot
