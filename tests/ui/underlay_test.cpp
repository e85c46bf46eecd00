// SPDX-License-Identifier: GPL-3.0-or-later
#include <QAction>
#include <QBuffer>
#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QDragMoveEvent>
#include <QFileDialog>
#include <QInputDialog>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QMessageBox>
#include <QMimeData>
#include <QPushButton>
#include <QPainter>
#include <QPdfWriter>
#include <QSpinBox>
#include <QTimer>
#include <functional>

#include "core/file/attachment.hpp"
#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "core/study/underlays.hpp"
#include "tests/ui/window_fixture.hpp"
#include "tests/unit/exchange/dxf_files.hpp"
#include "ui/exchange/background.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/drawing_dialog.hpp"
#include "ui/panels/page_dialog.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/underlay_box.hpp"
#include "ui/panels/words.hpp"

using namespace wallfoot;

namespace {

class WindowUnderlay : public WindowTest {
  protected:
    QString picture(const QString& name = QStringLiteral("foot.png"), QSize size = {400, 300}) {
        QImage image(size, QImage::Format_RGB32);
        image.fill(QColor(200, 30, 30));
        QByteArray bytes;
        QBuffer buffer(&bytes);
        buffer.open(QIODevice::WriteOnly);
        image.save(&buffer, "PNG");
        return write(name, bytes);
    }
    const Underlay& underlay(std::size_t i = 0) { return window->document().section().underlays.at(i); }
    void trigger(const char* command) { window->action(QString::fromLatin1(command))->trigger(); }
    void click(double x_mm, double y_mm) { QTest::mouseClick(&window->sheet(), Qt::LeftButton, Qt::ControlModifier, on_sheet(x_mm, y_mm)); }
    QColor at(double x_mm, double y_mm) { return window->sheet().grab().toImage().pixelColor(on_sheet(x_mm, y_mm)); }

    void wait_for_files() { ASSERT_TRUE(QTest::qWaitFor([&] { return !window->reading(); }, 30'000)); }
    void add(const QString& path, std::optional<QPointF> at = {}) {
        window->add_underlay_file(path, at);
        wait_for_files();
    }

    /// Does something in the dialog that the act opens, now or when a file was read.
    template <class Dialog>
    void in_dialog(const std::function<void()>& act, const std::function<void(Dialog&)>& work) {
        bool opened = false;
        std::function<void()> look = [&] {
            auto* dialog = qobject_cast<Dialog*>(QApplication::activeModalWidget());
            if (!dialog) return QTimer::singleShot(5, window.get(), look);
            opened = true;
            work(*dialog);
        };
        QTimer::singleShot(0, window.get(), look);
        act();
        ASSERT_TRUE(QTest::qWaitFor([&] { return opened && !window->reading(); }, 30'000));
    }
};

}  // namespace

TEST_F(WindowUnderlay, a_picture_lies_below_the_section_and_changes_no_result) {
    open_small();
    const double before = psi();
    const QColor paper = at(-600, 400);
    add(picture(), QPointF(-600, 400));
    wait_for_rest();
    EXPECT_EQ(psi(), before);
    EXPECT_TRUE(underlay().locked);
    EXPECT_NE(at(-600, 400), paper);
    EXPECT_GT(at(-600, 400).red() - at(-600, 400).green(), 40);
    EXPECT_TRUE(window->piece_panel().underlay().isVisible()) << "its properties";
    EXPECT_FALSE(window->contents_panel().findItems(QStringLiteral("foot.png"), Qt::MatchExactly | Qt::MatchRecursive).isEmpty());
    // Saved, opened again, taken back.
    const QString copy = folder.filePath(QStringLiteral("with.wallfoot"));
    ASSERT_TRUE(window->save_to(copy));
    const Study again = load_study(copy.toStdString()).study;
    EXPECT_EQ(again.variants[0].section->underlays, window->document().section().underlays);
    EXPECT_EQ(again.attachments.size(), 1u);
    window->document().undo_stack().undo();
    EXPECT_TRUE(window->document().section().underlays.empty());
    EXPECT_TRUE(window->document().study()->attachments.empty());
}

TEST_F(WindowUnderlay, a_file_that_cannot_be_shown_leaves_the_study_as_it_was) {
    open_small();
    const auto study = window->document().study();
    QString large = write(QStringLiteral("large.png"), "\x89PNG");
    ASSERT_TRUE(QFile(large).resize(200'000'000));
    for (const QString& path : {write(QStringLiteral("broken.png"), "\x89PNG\r\n\x1a\n nothing"), write(QStringLiteral("broken.pdf"), "%PDF-1.7 nothing"),
                                write(QStringLiteral("broken.dxf"), "0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nnan\n0\nEOF\n"), large, folder.filePath(QStringLiteral("none.jpg"))})
        in_dialog<QMessageBox>([&] { window->add_underlay_file(path, {}); }, [&](QMessageBox& box) {
            EXPECT_GT(box.text().size(), 60) << path.toStdString();
            EXPECT_FALSE(box.text().contains(QLatin1Char('{'))) << box.text().toStdString();
            box.accept();
        });
    EXPECT_EQ(window->document().study(), study);
}

TEST_F(WindowUnderlay, two_clicks_and_a_length_set_the_scale) {
    open_small();
    add(picture());
    const double before = underlay().scale;
    trigger("underlay.scale");
    ASSERT_TRUE(window->sheet().asks_places());
    click(-400, 0);
    in_dialog<QInputDialog>([&] { click(-200, 0); }, [](QInputDialog& dialog) {
        dialog.setTextValue(QStringLiteral("50 cm"));
        dialog.accept();
    });
    EXPECT_FALSE(window->sheet().asks_places());
    const double pixel = 1 / window->sheet().view().pixels_per_mm;  // a click falls on a whole pixel
    EXPECT_NEAR(underlay().scale / before, 2.5, 2.5 * 2 * pixel / 200);
    EXPECT_EQ(window->document().undo_stack().undoText(), QStringLiteral("Scale underlay"));
    trigger("underlay.scale");
    QTest::keyClick(&window->sheet(), Qt::Key_Escape);
    EXPECT_FALSE(window->sheet().asks_places());
    trigger("underlay.scale");
    trigger("draw.rectangle");
    EXPECT_FALSE(window->sheet().asks_places()) << "another tool ends it";
}

TEST_F(WindowUnderlay, locked_it_stays_and_unlocked_it_is_dragged) {
    open_small();
    add(picture(), QPointF(-600, 400));
    const Point before = underlay().origin;
    const auto drag = [&] {
        QTest::mousePress(&window->sheet(), Qt::LeftButton, Qt::ControlModifier, on_sheet(-700, 700));
        QTest::mouseMove(&window->sheet(), on_sheet(-650, 700));
        QTest::mouseMove(&window->sheet(), on_sheet(-500, 600));
        QTest::mouseRelease(&window->sheet(), Qt::LeftButton, Qt::ControlModifier, on_sheet(-500, 600));
    };
    drag();
    EXPECT_EQ(underlay().origin, before);
    window->sheet().set_picked({PickedKind::underlay, QStringLiteral("u1"), {}});
    trigger("underlay.lock");
    drag();
    EXPECT_NEAR(to_mm(underlay().origin.x - before.x), 200, 8);
    EXPECT_NEAR(to_mm(underlay().origin.y - before.y), -100, 8);
    const Point moved = underlay().origin;
    window->sheet().move_picked(10, 0);
    EXPECT_EQ(underlay().origin, (Point{moved.x + 10'000, moved.y}));
    trigger("edit.delete");
    EXPECT_TRUE(window->document().section().underlays.empty());
    EXPECT_TRUE(window->document().study()->attachments.empty());
}

TEST_F(WindowUnderlay, not_to_scale_is_told_in_the_contents) {
    open_small();
    add(picture());
    window->piece_panel().underlay().not_to_scale()->click();
    EXPECT_TRUE(underlay().not_to_scale);
    EXPECT_FALSE(window->contents_panel().findItems(QStringLiteral("written dimensions rule"), Qt::MatchContains | Qt::MatchRecursive, 1).isEmpty());
    // And in its properties the edges that no dimension gives: of the leaf the width, for it goes on beyond the cut.
    QListWidget* unwritten = window->piece_panel().underlay().unwritten();
    const auto lists = [&](const char* line) { return !unwritten->findItems(QString::fromLatin1(line), Qt::MatchExactly).isEmpty(); };
    EXPECT_TRUE(unwritten->isVisible());
    EXPECT_TRUE(lists("Leaf (2): across 0 to 100"));
    EXPECT_TRUE(lists("Foot block (4): across 0 to 100; up -400 to 200"));
    const int before = unwritten->count();
    window->document().edit(QStringLiteral("write"), [](const Section& s) { return add_dimension(s, {"", {0, 0}, {100'000, 0}, "x", 0, "", {}}); });
    EXPECT_EQ(unwritten->count(), before - 1) << "the leaf has all it needs";
    EXPECT_TRUE(lists("Foot block (2): up -400 to 200"));
    window->piece_panel().underlay().not_to_scale()->click();
    EXPECT_FALSE(unwritten->isVisible());
    window->piece_panel().underlay().visible()->click();
    EXPECT_FALSE(underlay().visible);
}

TEST_F(WindowUnderlay, a_photo_is_straightened_where_it_lies) {
    open_small();
    add(picture(QStringLiteral("wall.png"), {800, 700}), QPointF(-150, 150));
    const std::string photo = underlay().attachment;
    trigger("underlay.straighten");
    click(-600, -300);
    click(300, -400);
    click(200, 600);
    int asked = 0;
    std::function<void()> answer = [&] {
        auto* dialog = qobject_cast<QInputDialog*>(QApplication::activeModalWidget());
        ASSERT_NE(dialog, nullptr);
        dialog->setTextValue(++asked == 1 ? QStringLiteral("1000") : QStringLiteral("750"));
        if (asked == 1) QTimer::singleShot(0, window.get(), answer);
        dialog->accept();
    };
    QTimer::singleShot(0, window.get(), answer);
    click(-500, 550);
    EXPECT_EQ(asked, 2);
    wait_for_files();
    EXPECT_NE(underlay().attachment, photo);
    EXPECT_EQ(window->document().study()->attachments.size(), 1u) << "the slanted one is gone";
    const Attachment& file = *window->document().study()->attachments.begin()->second;
    EXPECT_EQ(file.type, "image/png");
    window->document().undo_stack().undo();
    EXPECT_EQ(underlay().attachment, photo);
}

TEST_F(WindowUnderlay, a_drawing_asks_unit_layers_and_gap_and_its_ends_hold_the_cursor) {
    open_small();
    // In metres at site coordinates: a block of 0.2 × 0.3 with a corner 0.4 mm open, a closed square, words.
    using test::dxf_line;
    const std::string square = "0\nLWPOLYLINE\n8\nsquares\n90\n4\n70\n1\n10\n5000.5\n20\n7000\n10\n5000.6\n20\n7000\n10\n5000.6\n20\n7000.1\n10\n5000.5\n20\n7000.1\n";
    const std::string text = test::dxf_with(dxf_line(5000, 7000, 5000.2, 7000, "walls") + dxf_line(5000.2, 7000, 5000.2, 7000.3, "walls") + dxf_line(5000.2, 7000.3, 5000, 7000.3, "walls") +
                                            dxf_line(5000, 7000.3, 5000, 7000.0004, "walls") + square + "0\nTEXT\n8\nwords\n10\n0\n20\n0\n1\nno\n");
    const QString path = write(QStringLiteral("detail.dxf"), QByteArray::fromStdString(text));
    in_dialog<DrawingDialog>([&] { window->add_underlay_file(path, {}); }, [&](DrawingDialog& dialog) {
        EXPECT_TRUE(dialog.left_out()->item(0)->text().contains(QStringLiteral("TEXT")));
        dialog.unit()->setCurrentIndex(dialog.unit()->findData(1000.0));
        EXPECT_TRUE(dialog.size_label()->text().contains(QStringLiteral("600"))) << dialog.size_label()->text().toStdString();
        dialog.to_origin()->setChecked(true);
        EXPECT_TRUE(dialog.size_label()->text().contains(QStringLiteral("300 mm"))) << dialog.size_label()->text().toStdString();
        dialog.gap()->setText(QStringLiteral("0.1"));
        EXPECT_EQ(dialog.open_ends()->count(), 2);
        EXPECT_TRUE(dialog.open_ends()->item(0)->text().contains(QStringLiteral("0.4 mm"))) << dialog.open_ends()->item(0)->text().toStdString();
        EXPECT_EQ(dialog.outlines().size(), 1u);
        dialog.gap()->setText(QStringLiteral("0.5"));
        EXPECT_EQ(dialog.open_ends()->count(), 0);
        EXPECT_EQ(dialog.outlines().size(), 2u);
        // Only the walls.
        for (int i = 0; i < dialog.layers()->count(); ++i)
            if (dialog.layers()->item(i)->text().startsWith(QStringLiteral("squares"))) dialog.layers()->item(i)->setCheckState(Qt::Unchecked);
        EXPECT_EQ(dialog.outlines().size(), 1u);
        dialog.pieces()->setChecked(true);
        dialog.accept();
    });
    EXPECT_EQ(underlay().kind, UnderlayKind::dxf);
    const auto& pieces = window->document().section().pieces;
    ASSERT_EQ(pieces.size(), 6u);
    EXPECT_EQ(pieces.back().outline.size(), 4u);
    // A corner of the drawing holds the cursor. The pieces are taken back first: they would hold it as well.
    window->document().undo_stack().undo();
    ASSERT_EQ(window->document().section().pieces.size(), 5u);
    QString held;
    QPointF place;
    QObject::connect(&window->sheet(), &Sheet::hovered, window.get(), [&](QPointF mm, const QString& snap) {
        place = mm;
        held = snap;
    });
    trigger("draw.polygon");
    window->sheet().grab();  // seen, it is unpacked
    wait_for_files();
    const QPointF near = on_sheet(203, 302);
    QMouseEvent move(QEvent::MouseMove, near, window->sheet().mapToGlobal(near), Qt::NoButton, Qt::NoButton, Qt::NoModifier);
    QApplication::sendEvent(&window->sheet(), &move);
    EXPECT_EQ(held, QStringLiteral("corner"));
    EXPECT_NEAR(place.x(), 200, 1e-9);
    EXPECT_NEAR(place.y(), 300, 1e-9);
    trigger("draw.pick");
    window->sheet().set_picked({PickedKind::underlay, QStringLiteral("u1"), {}});
    trigger("underlay.pieces");
    EXPECT_EQ(window->document().section().pieces.size(), 6u);
}

TEST_F(WindowUnderlay, a_dropped_file_lands_where_it_is_dropped) {
    open_small();
    QMimeData data;
    data.setUrls({QUrl::fromLocalFile(picture())});
    const QPoint where = on_sheet(-600, 500);
    QDragEnterEvent enter(where, Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&window->sheet(), &enter);
    EXPECT_TRUE(enter.isAccepted());
    QDragMoveEvent move(where, Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&window->sheet(), &move);
    EXPECT_TRUE(move.isAccepted());
    QDropEvent drop(where, Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&window->sheet(), &drop);
    ASSERT_TRUE(QTest::qWaitFor([&] { return !window->document().section().underlays.empty(); }));
    const Place middle = placed(underlay(), 200, 150);
    EXPECT_NEAR(middle.x, -600, 4);
    EXPECT_NEAR(middle.y, 500, 4);
}

TEST_F(WindowUnderlay, a_page_is_seen_before_it_is_agreed_to) {
    open_small();
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    {
        QPdfWriter writer(&buffer);
        writer.setPageSize(QPageSize(QPageSize::A4));
        QPainter painter(&writer);
        painter.drawLine(0, 0, 500, 500);
        writer.newPage();
        painter.drawLine(0, 0, 500, 500);
    }
    const QString path = write(QStringLiteral("two.pdf"), bytes);
    bool seen = false;
    std::function<void()> look = [&] {
        auto* dialog = qobject_cast<PageDialog*>(QApplication::activeModalWidget());
        if (!dialog || dialog->page_size().isEmpty()) {
            EXPECT_FALSE(dialog && dialog->buttons()->button(QDialogButtonBox::Ok)->isEnabled()) << "it is not there yet";
            return QTimer::singleShot(1, window.get(), look);
        }
        if (dialog->page() == 1) {
            dialog->page_field()->setValue(2);
            EXPECT_FALSE(dialog->buttons()->button(QDialogButtonBox::Ok)->isEnabled()) << "another page is asked for";
            return QTimer::singleShot(1, window.get(), look);
        }
        seen = true;
        dialog->scale_field()->setCurrentText(QStringLiteral("1:5"));
        dialog->accept();
    };
    QTimer::singleShot(0, window.get(), look);
    add(path);
    ASSERT_TRUE(QTest::qWaitFor([&] { return seen && !window->reading(); }, 30'000));
    EXPECT_EQ(underlay().page, 2);
    EXPECT_NEAR(underlay().scale, 25.4 / 72 * 5, 1e-9);
    const Rect& cut = window->document().section().cut;
    EXPECT_NEAR(to_mm(underlay().origin.x) + 595 * underlay().scale / 2, to_mm(cut.left) + to_mm(cut.width()) / 2, 2) << "an A4 is 595 points wide";
}

TEST_F(WindowUnderlay, what_is_being_unpacked_says_so_and_what_cannot_be_is_told_once) {
    open_small();
    add(picture(QStringLiteral("red.png"), {1000, 800}), QPointF(-600, 400));
    QStringList told;
    QObject::connect(&window->sheet(), &Sheet::told, window.get(), [&](const QString& text) { if (text.contains(QStringLiteral("cannot be shown"))) told << text; });
    // A study as it is opened: one picture that is sound, one that is not.
    Study study = *window->document().study();
    const AttachedFile broken = attached_file("image/png", "broken.png", "\x89PNG\r\n\x1a\n nothing");
    study.attachments[broken.hash] = broken.attachment;
    Section section = *study.variants[0].section;
    section.underlays.push_back(section.underlays[0]);
    section.underlays[1].id = "u2";
    section.underlays[1].attachment = broken.hash;
    study.variants[0].section = std::make_shared<const Section>(section);
    const QString path = folder.filePath(QStringLiteral("both.wallfoot"));
    save_study(study, path.toStdString());
    window = std::make_unique<MainWindow>();
    window->resize(1200, 800);
    window->show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(window.get()));
    QObject::connect(&window->sheet(), &Sheet::told, window.get(), [&](const QString& text) { if (text.contains(QStringLiteral("cannot be shown"))) told << text; });
    ASSERT_TRUE(window->open_file(path));
    trigger("view.draw");
    const QColor at_once = at(-600, 400);
    EXPECT_TRUE(window->reading()) << "it is painted without being waited for";
    EXPECT_LT(at_once.red() - at_once.green(), 40) << "not unpacked in a paint event";
    wait_for_files();
    EXPECT_GT(at(-600, 400).red() - at(-600, 400).green(), 40);
    for (int i = 0; i < 3; ++i) {
        View view = window->sheet().view();
        view.centre_mm += QPointF(10, 0);
        window->sheet().set_view(view);
        at(0, 0);
    }
    ASSERT_EQ(told.size(), 1) << told.join(QLatin1Char('\n')).toStdString();
    EXPECT_TRUE(told[0].contains(QStringLiteral("broken.png"))) << told[0].toStdString();
}

TEST_F(WindowUnderlay, what_arrives_late_takes_nothing_out_of_the_hand) {
    open_small();
    const Picked foot{PickedKind::piece, QStringLiteral("foot")};
    window->sheet().set_picked(foot);
    trigger("change.hole");
    ASSERT_EQ(window->sheet().tool(), Tool::hole);
    add(picture());
    ASSERT_EQ(window->document().section().underlays.size(), 1u);
    EXPECT_EQ(window->sheet().tool(), Tool::hole);
    EXPECT_EQ(window->sheet().picked(), foot);
    // Something else picked meanwhile, as in the contents, is told and no piece is cut.
    window->sheet().set_picked({PickedKind::underlay, QStringLiteral("u1")});
    const auto before = window->document().variant().section;
    QStringList told;
    QObject::connect(&window->sheet(), &Sheet::told, window.get(), [&](const QString& text) { told << text; });
    for (const QPoint at : {on_sheet(20, -100), on_sheet(80, -100), on_sheet(50, -50)}) QTest::mouseClick(&window->sheet(), Qt::LeftButton, {}, at);
    QTest::keyClick(&window->sheet(), Qt::Key_Return);
    EXPECT_EQ(window->document().variant().section, before);
    ASSERT_FALSE(told.isEmpty());
    EXPECT_TRUE(told.contains(sentence("edit-needs-piece"))) << told.join(QLatin1Char('|')).toStdString();
}

TEST_F(WindowUnderlay, it_goes_below_the_variant_it_was_asked_for) {
    open_small();
    trigger("variant.duplicate");
    ASSERT_EQ(window->document().active(), 1u);
    window->add_underlay_file(picture(), {});
    window->document().set_active(0);
    wait_for_files();
    EXPECT_TRUE(window->document().section().underlays.empty());
    EXPECT_EQ(window->document().study()->variants[1].section->underlays.size(), 1u);
}

TEST_F(WindowUnderlay, it_waits_while_the_hand_drags) {
    open_small();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    window->add_underlay_file(picture(), {});
    QTest::mousePress(&window->sheet(), Qt::LeftButton, {}, on_sheet(-700, 700));
    ASSERT_TRUE(window->sheet().dragging());
    wait_for_files();
    QTest::qWait(120);
    EXPECT_TRUE(window->document().section().underlays.empty());
    QTest::mouseRelease(&window->sheet(), Qt::LeftButton, {}, on_sheet(-700, 700));
    EXPECT_TRUE(QTest::qWaitFor([&] { return !window->document().section().underlays.empty(); }));
}

TEST_F(WindowUnderlay, a_photo_that_cannot_be_straightened_says_that) {
    open_small();
    add(picture(QStringLiteral("wall.png"), {800, 700}), QPointF(-150, 150));
    const Underlay before = underlay();
    trigger("underlay.straighten");
    click(-600, -300);
    click(300, -400);
    click(-500, 550);
    std::function<void()> answer = [&] {
        if (auto* dialog = qobject_cast<QInputDialog*>(QApplication::activeModalWidget())) {
            dialog->setTextValue(QStringLiteral("1000"));
            QTimer::singleShot(0, window.get(), answer);
            dialog->accept();
        }
    };
    QTimer::singleShot(0, window.get(), answer);
    in_dialog<QMessageBox>([&] { click(200, 600); }, [&](QMessageBox& box) {
        EXPECT_EQ(box.windowTitle(), QStringLiteral("Not straightened"));
        EXPECT_FALSE(box.text().contains(QStringLiteral("added"))) << box.text().toStdString();
        box.accept();
    });
    EXPECT_EQ(underlay(), before);
}

TEST(Background, what_a_work_throws_ends_it_alone) {
    Background background;
    bool done = false;
    background.run([]() -> Background::Done { throw std::runtime_error("no"); });
    background.run([&]() -> Background::Done { return [&] { done = true; }; });
    EXPECT_TRUE(QTest::qWaitFor([&] { return background.idle(); }));
    EXPECT_TRUE(done);
}
