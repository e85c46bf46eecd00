// SPDX-License-Identifier: GPL-3.0-or-later
// How long the window's event loop is held at most while something is dragged, laid below the section or copied: for each
// the three longest times one event took, in ms by the clock and of work on that thread (they differ on a busy machine).
// Not a test: no number here is right or wrong on another machine.
// usage: bench_holds FOLDER-OF-SAMPLES
#include <time.h>

#include <QApplication>
#include <QBuffer>
#include <QDialogButtonBox>
#include <QFile>
#include <QPainter>
#include <QPdfWriter>
#include <QPushButton>
#include <QSettings>
#include <QTemporaryDir>
#include <QTimer>
#include <QtTest/QTest>
#include <cstdio>
#include <functional>
#include <random>

#include "core/context/memory.hpp"
#include "core/file/attachment.hpp"
#include "core/study/edits.hpp"
#include "ui/paint/section_notes.hpp"
#include "ui/panels/page_dialog.hpp"
#include "ui/window/main_window.hpp"
#include "ui/window/recovery.hpp"

using namespace wallfoot;

namespace {

double work_ms() {
    timespec t{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return 1e3 * static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_nsec);
}

struct Hold {
    double clock = 0, work = 0;
    int event = 0;
    const char* to = "";
};

/// Times each event that is delivered from a loop, not those delivered within another. What runs a loop of its own (a
/// dialog) holds nothing while that runs: what it did before and afterwards is timed.
class Timed : public QApplication {
  public:
    using QApplication::QApplication;
    bool notify(QObject* to, QEvent* event) override {
        const int loop = QThread::currentThread()->loopLevel();
        if (!frames_.empty() && frames_.back().loop >= loop) return QApplication::notify(to, event);
        const Hold seen{0, work_ms(), event->type(), to->metaObject()->className()};
        const double start = now();
        if (!frames_.empty() && frames_.back().left < 0) frames_.back().left = start;
        frames_.push_back({loop});
        const bool taken = QApplication::notify(to, event);
        const Frame frame = frames_.back();
        frames_.pop_back();
        const double end = now();
        if (!frames_.empty()) frames_.back().back = end;
        const double held = frame.left < 0 ? end - start : std::max(frame.left - start, end - frame.back);
        holds.push_back({held, work_ms() - seen.work, seen.event, seen.to});
        return taken;
    }
    std::vector<Hold> holds;

  private:
    struct Frame {
        int loop = 0;
        double left = -1, back = -1;  // when a loop within it began and ended
    };
    static double now() {
        timespec t{};
        clock_gettime(CLOCK_MONOTONIC, &t);
        return 1e3 * static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_nsec);
    }
    std::vector<Frame> frames_;
};

Timed* timed = nullptr;

void wait(int ms) { QTest::qWait(ms); }

void measure(const char* what, const std::function<void()>& act) {
    wait(300);
    timed->holds.clear();
    act();
    auto holds = std::move(timed->holds);
    std::sort(holds.begin(), holds.end(), [](const Hold& a, const Hold& b) { return a.clock > b.clock; });
    std::printf("%-44s", what);
    for (std::size_t i = 0; i < 3 && i < holds.size(); ++i) std::printf("  %7.1f (%7.1f, %s %d)", holds[i].clock, holds[i].work, holds[i].to, holds[i].event);
    const auto over = std::count_if(holds.begin(), holds.end(), [](const Hold& h) { return h.clock > 50; });
    std::printf("  over 50 ms: %d of %zu\n", static_cast<int>(over), holds.size());
    std::fflush(stdout);
}

/// Something that a test would call directly, as an event of the loop.
void post(const std::function<void()>& act) { QTimer::singleShot(0, qApp, act); }

QString written(const QTemporaryDir& folder, const char* name, const QByteArray& bytes) {
    const QString path = folder.filePath(QString::fromLatin1(name));
    QFile file(path);
    if (!file.open(QIODevice::WriteOnly) || file.write(bytes) != bytes.size()) std::exit(1);
    return path;
}

/// As busy as a photo: 4000 × 3000, some 5 MB.
QByteArray photo() {
    QImage image(4000, 3000, QImage::Format_RGB32);
    std::mt19937 random(1);
    for (int y = 0; y < image.height(); ++y) {
        auto* line = reinterpret_cast<QRgb*>(image.scanLine(y));
        for (int x = 0; x < image.width(); ++x) {
            const int grain = static_cast<int>(random() % 24);
            line[x] = qRgb((x / 16) % 200 + grain, (y / 16) % 200 + grain, ((x + y) / 32) % 200 + grain);
        }
    }
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    image.save(&buffer, "JPG", 85);
    return bytes;
}

/// A sheet of drawings: 30 000 lines and 1 500 texts.
QByteArray page() {
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    writer.setPageSize(QPageSize(QPageSize::A1));
    QPainter painter(&writer);
    std::mt19937 random(2);
    const int w = writer.width(), h = writer.height();
    const auto upto = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    for (int i = 0; i < 30'000; ++i) {
        const int x = upto(w), y = upto(h);
        painter.drawLine(x, y, x + upto(400) - 200, y + upto(400) - 200);
    }
    for (int i = 0; i < 1'500; ++i) painter.drawText(upto(w), upto(h), QStringLiteral("%1 mm, as written").arg(upto(1000)));
    painter.end();
    return bytes;
}

void drag(Sheet& sheet, QPoint from) {
    QTest::mouseMove(&sheet, from);
    wait(50);
    QTest::mousePress(&sheet, Qt::LeftButton, {}, from);
    for (int i = 1; i <= 60; ++i) {
        QTest::mouseMove(&sheet, from + QPoint(i / 2, i % 20 / 2));
        wait(16);
    }
    QTest::mouseRelease(&sheet, Qt::LeftButton, {}, from + QPoint(30, 5));
    wait(1500);
}

/// Agrees to the dialog of pages as soon as that can be done.
void agree() {
    auto* dialog = qobject_cast<PageDialog*>(QApplication::activeModalWidget());
    if (dialog && dialog->buttons()->button(QDialogButtonBox::Ok)->isEnabled()) return dialog->accept();
    QTimer::singleShot(20, qApp, agree);
}

}  // namespace

int main(int argc, char** argv) {
    keep_freed_memory();
    if (argc < 2) return 2;
    if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
    QTemporaryDir folder;
    qputenv("XDG_DATA_HOME", folder.path().toUtf8());
    Timed application(argc, argv);
    timed = &application;
    QCoreApplication::setOrganizationName(QStringLiteral("wallfoot-bench"));
    QSettings::setPath(QSettings::NativeFormat, QSettings::UserScope, folder.path());
    const QString jpeg = written(folder, "photo.jpg", photo()), pdf = written(folder, "sheet.pdf", page());
    const QString study = folder.filePath(QStringLiteral("study.wallfoot"));
    QFile::copy(QString::fromLocal8Bit(argv[1]) + QStringLiteral("/slab-insulation-below.wallfoot"), study);

    MainWindow window;
    window.resize(1600, 1000);
    window.show();
    if (!QTest::qWaitForWindowExposed(&window)) return 1;
    std::printf("%-44s  longest holds in ms: by the clock (work; who got which kind of event)\n", "");
    measure("open a sample, all its variants worked out", [&] { post([&] { window.open_file(study); }), wait(8000); });
    Sheet& sheet = window.sheet();
    const auto at = [&](double x, double y) { return sheet.view().to_pixels(x, y).toPoint(); };
    sheet.set_picked({PickedKind::piece, QStringLiteral("footing")});
    measure("drag a corner", [&] { drag(sheet, at(477.5, -750)); });
    window.document().edit(QStringLiteral("measure"), [](const Section& s) {
        return add_stretch(s, stretch_through(s, {{175'000, 0}, {175'000, 1'000}}, "right", find_piece(s, "cavity-1")));
    });
    sheet.set_picked({PickedKind::stretch, QString::fromStdString(window.document().section().stretch.back().id)});
    measure("drag a stretch line", [&] { drag(sheet, place_of(sheet.view(), window.document().section().stretch.back()).handle.toPoint()); });
    measure("add a photo of 4000 x 3000 (JPEG)", [&] { post([&] { window.add_underlay_file(jpeg, {}); }), wait(5000); });
    measure("add a page of A1 (PDF)", [&] { post([&] { window.add_underlay_file(pdf, {}); }), post(agree), wait(12'000); });
    sheet.set_picked({PickedKind::piece, QStringLiteral("footing")});
    measure("drag a corner over both", [&] { drag(sheet, at(477.5, -760)); });
    measure("move the view over both", [&] {
        sheet.setFocus();
        sheet.set_picked({});
        for (int i = 0; i < 10; ++i) QTest::keyClick(&sheet, Qt::Key_Right), wait(50);
    });
    measure("take both out and back", [&] {
        post([&] { window.document().undo_stack().setIndex(window.document().undo_stack().index() - 3); }), wait(500);
        post([&] { window.document().undo_stack().redo(); }), wait(5000);
        post([&] { window.document().undo_stack().redo(); }), wait(8000);
    });
    std::string bytes(19'000'000, ' ');
    std::mt19937 random(3);
    for (char& c : bytes) c = static_cast<char>(random());
    Study with = *window.document().study();
    with.attachments.clear();
    const AttachedFile file = attached_file("image/png", "scan.png", bytes);
    with.attachments[file.hash] = file.attachment;
    for (auto& variant : with.variants) {
        Section bare = *variant.section;
        bare.underlays.clear();
        variant.section = std::make_shared<const Section>(std::move(bare));
    }
    window.document().change(QStringLiteral("attach"), std::move(with), window.document().active());
    wait(8000);
    measure("write a copy with an attachment of 19 MB", [&] { post([&] { window.recovery().keep_now(); }), wait(4000); });
    return 0;
}
