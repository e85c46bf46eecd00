// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QTableWidget>
#include <QWidget>

#include "ui/window/document.hpp"

class QComboBox;
class QFormLayout;
class QLineEdit;

namespace wallfoot {

/// Properties of one kind of thing: fields whose changes are acts on the document.
class PropertyBox : public QWidget {
    Q_OBJECT
  public:
    PropertyBox(Document& document, QWidget* parent) : QWidget(parent), document_(document) {}

  signals:
    void told(const QString& text);  ///< a refusal, or nothing
    void refused();                  ///< the fields are to show again what holds

  protected:
    /// An act named `text`; nothing while the fields are being filled.
    void act(const QString& text, const Document::SectionEdit& edit);
    void refuse(const std::string& code);
    /// What was typed is settled, one way or the other: fields may show again what holds.
    void settle_typing();
    /// A length typed into a field, in mm on the grid; refuses what cannot be understood.
    std::optional<Micrometres> length_in(const QString& text);
    /// The form that fills a box.
    static QFormLayout* form_of(QWidget* box);
    /// Adds a row; the field is called like it.
    static void add_row(QFormLayout& form, const QString& label, QWidget* field);

    Document& document_;
    bool filling_ = false;
};

/// Sets the text unless it is being typed over just now.
void show_text(QLineEdit& field, const QString& text);

/// Corners as a table of x and y that can be typed over.
class CornerTable : public QTableWidget {
    Q_OBJECT
  public:
    explicit CornerTable(QWidget* parent);
    void show_corners(const std::vector<Point>& corners);

  signals:
    void typed(int row, Point to);
    void refused(const QString& text);

  private:
    std::vector<Point> corners_;
};

}  // namespace wallfoot
