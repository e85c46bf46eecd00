// SPDX-License-Identifier: GPL-3.0-or-later
#include <QFile>
#include <QFileInfo>
#include <QApplication>
#include <QClipboard>
#include <QLineEdit>
#include <QListWidget>
#include <QMenu>
#include <QMimeData>
#include <QPainter>
#include <QPdfWriter>
#include <QProcess>
#include <QRegularExpression>
#include <QTableWidget>
#include <QTimer>
#include <QXmlStreamReader>
#include <random>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "tests/unit/tree.hpp"
#include "ui/exchange/pdf_file.hpp"
#include "ui/panels/find_dialog.hpp"
#include "ui/panels/report_view.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/report/copied.hpp"
#include "ui/report/report_command.hpp"

using namespace wallfoot;

namespace {

/// What a general-purpose program of the PDF library poppler prints.
QString printed_by(const QString& program, const QStringList& arguments) {
    QProcess process;
    process.start(program, arguments);
    EXPECT_TRUE(process.waitForFinished(60'000)) << program.toStdString();
    EXPECT_EQ(process.exitCode(), 0) << process.readAllStandardError().toStdString();
    return QString::fromUtf8(process.readAllStandardOutput());
}

QByteArray bytes_of(const QString& path) {
    QFile file(path);
    EXPECT_TRUE(file.open(QIODevice::ReadOnly)) << path.toStdString();
    return file.readAll();
}

struct ReportFile : ::testing::Test {
    QTemporaryDir folder;
    const QString sample = QString::fromStdString(in_tree("samples/slab-insulation-below.wallfoot"));
    QString at(const char* name) const { return folder.filePath(QString::fromLatin1(name)); }
    int report(const QString& out, const QStringList& more = {}) const { return report_command(QStringList{sample, "--out", out, "--date", "2026-03-01", "--no-errors"} + more); }
};

/// First and last dark pixel of a row.
std::pair<int, int> ends_of_row(const QImage& image, int y) {
    int first = -1, last = -1;
    for (int x = 0; x < image.width(); ++x)
        if (qGray(image.pixel(x, y)) < 200) {
            if (first < 0) first = x;
            last = x;
        }
    return {first, last};
}

}  // namespace

TEST(PageFlow, loses_nothing_keeps_the_order_and_what_belongs_together) {
    std::mt19937 random(5);
    for (int round = 0; round < 300; ++round) {
        std::vector<Strip> strips;
        std::vector<int> painted;
        const int n = 1 + static_cast<int>(random() % 60);
        for (int i = 0; i < n; ++i) {
            Strip strip;
            strip.height = 1 + random() % 120;
            strip.before = random() % 20;
            strip.keep_with_next = random() % 4 == 0;
            strip.paint = [&painted, i](QPainter&) { painted.push_back(i); };
            strips.push_back(std::move(strip));
        }
        const double page_height = 300;
        const auto pages = flow(strips, page_height);
        QImage nowhere(1, 1, QImage::Format_RGB32);
        QPainter painter(&nowhere);
        for (const auto& page : pages) {
            ASSERT_FALSE(page.empty());
            const std::size_t before = painted.size();
            for (const auto& placed : page) {
                placed.paint(painter);
                const auto& strip = strips[static_cast<std::size_t>(painted.back())];
                EXPECT_LE(placed.y + strip.height, page_height);
            }
            // A strip that keeps with the next is last of a page only where the chain is higher than a page.
            int last = painted.back();
            if (!strips[static_cast<std::size_t>(last)].keep_with_next || last + 1 == n) continue;
            double chain = strips[static_cast<std::size_t>(last)].height;
            for (int i = last; i > 0 && strips[static_cast<std::size_t>(i - 1)].keep_with_next && i > painted[before]; --i) chain += strips[static_cast<std::size_t>(i)].before + strips[static_cast<std::size_t>(i - 1)].height;
            for (int i = last; i + 1 < n && strips[static_cast<std::size_t>(i)].keep_with_next; ++i) chain += strips[static_cast<std::size_t>(i + 1)].before + strips[static_cast<std::size_t>(i + 1)].height;
            EXPECT_GT(chain, page_height) << "round " << round;
        }
        std::vector<int> all(static_cast<std::size_t>(n));
        for (int i = 0; i < n; ++i) all[static_cast<std::size_t>(i)] = i;
        EXPECT_EQ(painted, all);
    }
}

TEST(PageFlow, repeats_a_tables_head_on_every_page_it_goes_over) {
    int heads = 0;
    Strip head;
    head.height = 20;
    head.paint = [&](QPainter&) { ++heads; };
    std::vector<Strip> strips{head};
    strips[0].keep_with_next = true;
    for (int i = 0; i < 40; ++i) {
        Strip row;
        row.height = 20;
        row.head = i > 0 ? std::make_shared<const Strip>(head) : nullptr;
        strips.push_back(row);
    }
    const auto pages = flow(strips, 200);
    QImage nowhere(1, 1, QImage::Format_RGB32);
    QPainter painter(&nowhere);
    for (const auto& page : pages)
        for (const auto& placed : page) placed.paint(painter);
    EXPECT_EQ(pages.size(), 5u);  // 9 rows beside each head
    EXPECT_EQ(heads, 5);
}

TEST_F(ReportFile, a_pdf_has_its_text_its_fonts_its_title_and_the_study_in_it) {
    ASSERT_EQ(report(at("r.pdf")), 0);
    const QString text = printed_by("pdftotext", {"-layout", at("r.pdf"), "-"}).normalized(QString::NormalizationForm_KC);  // ligatures taken apart
    EXPECT_TRUE(text.contains("Question and answer"));
    const Study study = load_study(sample.toStdString()).study;
    for (const Variant& variant : study.variants) EXPECT_TRUE(text.contains(QString::fromStdString(with_bracket(*find(study, variant)->headline_psi()->value)))) << "psi as the solve finds it";
    EXPECT_TRUE(text.contains("Rules at the wall foot"));
    EXPECT_TRUE(text.simplified().contains("certifies nothing")) << "the caution goes along";
    const auto pages = QRegularExpression("page (\\d+) of (\\d+)").globalMatch(text);
    int count = 0;
    for (auto page = pages; page.hasNext(); ++count) EXPECT_EQ(page.next().captured(1).toInt(), count + 1);
    const QString info = printed_by("pdfinfo", {at("r.pdf")});
    EXPECT_TRUE(info.contains(QRegularExpression(QString("Pages: +%1\n").arg(count)))) << info.toStdString();
    EXPECT_TRUE(info.contains("Ground slab, insulation below"));
    EXPECT_TRUE(info.contains("(A4)"));
    for (const QString& line : printed_by("pdffonts", {at("r.pdf")}).split('\n').mid(2))
        EXPECT_TRUE(line.isEmpty() || line.contains(QRegularExpression("Identity-H +yes"))) << "embedded: " << line.toStdString();
    printed_by("pdfdetach", {"-save", "1", "-o", at("study"), at("r.pdf")});
    EXPECT_EQ(bytes_of(at("study")), bytes_of(sample)) << "byte for byte";
}

TEST_F(ReportFile, keeps_its_scale_on_paper) {
    ASSERT_EQ(report(at("r.pdf")), 0);
    printed_by("pdftoppm", {"-r", "254", "-gray", at("r.pdf"), at("page")});  // ten pixels per millimetre
    const QStringList files = QDir(folder.path()).entryList({"page-*.pgm"}, QDir::Files, QDir::Name);
    ASSERT_GT(files.size(), 2);
    const QImage first(folder.filePath(files.first()));
    ASSERT_FALSE(first.isNull());
    // The check bar is the lowest long line of the first page.
    int longest = 0;
    for (int y = first.height() * 9 / 10; y < first.height(); ++y) {
        int run = 0;
        for (int x = 0; x < first.width(); ++x) {
            run = qGray(first.pixel(x, y)) < 160 ? run + 1 : 0;
            longest = std::max(longest, run);
        }
    }
    EXPECT_NEAR(longest, 1000, 4);
    // The frame of the section, 2700 mm wide, at the scale told beneath it.
    const QString text = printed_by("pdftotext", {at("r.pdf"), "-"});
    const auto told = QRegularExpression("1 : (\\d+) on paper").match(text);
    ASSERT_TRUE(told.hasMatch());
    const double width = 27'000.0 / told.captured(1).toInt();
    int met = 0;
    for (const QString& file : files) {
        const QImage page(folder.filePath(file));
        for (int y = 0; y < page.height(); ++y) {
            const auto [left, right] = ends_of_row(page, y);
            met += left > 0 && std::abs(right - left - width) <= 4;
        }
    }
    EXPECT_GT(met, 500) << "rows as wide as the frame";
}

TEST_F(ReportFile, html_is_one_file_with_words_for_every_picture) {
    ASSERT_EQ(report(at("r.html")), 0);
    const QByteArray html = bytes_of(at("r.html"));
    EXPECT_LT(html.size(), 5'000'000);
    QXmlStreamReader reader(html);
    int pictures = 0, headings = 0;
    while (!reader.atEnd()) {
        reader.readNext();
        if (!reader.isStartElement()) continue;
        headings += reader.name() == QLatin1String("h2");
        for (const char* outside : {"src", "href"})
            EXPECT_TRUE(!reader.attributes().hasAttribute(QLatin1String(outside)) || reader.attributes().value(QLatin1String(outside)).startsWith(QLatin1String("data:")) ||
                        reader.attributes().value(QLatin1String(outside)).startsWith(QLatin1Char('#'))) << outside;
        if (reader.name() != QLatin1String("img")) continue;
        ++pictures;
        EXPECT_GT(reader.attributes().value(QLatin1String("alt")).size(), 20);
    }
    EXPECT_FALSE(reader.hasError()) << reader.errorString().toStdString();
    EXPECT_EQ(pictures, 7 + 3 + 6) << "those of the report with the key to the hatches, and to look closer: three variants, one block in six moisture conditions";
    EXPECT_GE(headings, 8);
}

TEST_F(ReportFile, refuses_plainly_and_leaves_an_earlier_report_as_it_was) {
    QFile earlier(at("r.pdf"));
    ASSERT_TRUE(earlier.open(QIODevice::WriteOnly));
    earlier.write("earlier");
    earlier.close();
    EXPECT_EQ(report(at("r.pdf"), {"--variant", "nobody"}), 2);
    EXPECT_EQ(report(at("r.pdf"), {"--paper", "A9"}), 2);
    EXPECT_EQ(report(at("r.docx")), 2);
    EXPECT_EQ(report_command({"--out", at("r.pdf")}), 2);
    EXPECT_EQ(report_command({at("missing.wallfoot"), "--out", at("r.pdf")}), 2);
    EXPECT_EQ(bytes_of(at("r.pdf")), QByteArray("earlier"));
    EXPECT_EQ(report(folder.filePath("no/such/folder/r.pdf")), 1);
    ASSERT_TRUE(QFile::copy(sample, at("own.json")));
    EXPECT_EQ(report_command({at("own.json"), "--out", at("own.json")}), 2) << "a study is not replaced by its report";
    EXPECT_EQ(bytes_of(at("own.json")), bytes_of(sample));
}

namespace {

/// By the menu, the first table and the first picture in it.
void copy_a_table_and_a_picture(const ReportView& view) {
    QMenu* parts = nullptr;
    for (const auto* button : view.findChildren<QPushButton*>())
        if (button->menu()) parts = button->menu();
    ASSERT_TRUE(parts);
    emit parts->aboutToShow();
    const Report& report = view.pages()->report();
    const auto copyable = copyable_parts(report);
    QList<QAction*> acts;
    for (QAction* heading : parts->actions()) acts << heading->menu()->actions();
    ASSERT_EQ(acts.size(), qsizetype(copyable.size()));
    bool table = false, picture = false;
    for (std::size_t i = 0; i < copyable.size(); ++i) {
        const ReportItem& item = report.items[copyable[i].item];
        if (const auto* of = std::get_if<ReportTable>(&item); of && !table) {
            table = true;
            acts[qsizetype(i)]->trigger();
            const QStringList lines = QApplication::clipboard()->text().split(QLatin1Char('\n'), Qt::SkipEmptyParts);
            ASSERT_EQ(lines.size(), qsizetype(of->rows.size() + 1));
            for (const QString& line : lines) EXPECT_EQ(line.count(QLatin1Char('\t')), qsizetype(of->head.size() - 1)) << line.toStdString();
            EXPECT_EQ(lines[1].section(QLatin1Char('\t'), 0, 0).toStdString(), of->rows[0][0]);
            EXPECT_EQ(QApplication::clipboard()->mimeData()->html().count(QStringLiteral("<tr>")), lines.size());
        } else if (std::holds_alternative<ReportPicture>(item) && !picture) {
            picture = true;
            QApplication::clipboard()->clear();
            acts[qsizetype(i)]->trigger();
            ASSERT_TRUE(QTest::qWaitFor([] { return !QApplication::clipboard()->image().isNull(); }, 30'000));
            const QImage image = QApplication::clipboard()->image();
            const auto [first, last] = ends_of_row(image, image.height() / 2);
            EXPECT_GT(last - first, image.width() / 4) << "the section is drawn";
        }
    }
    EXPECT_TRUE(table && picture);
}

}  // namespace

TEST_F(WindowTest, the_report_follows_the_study_and_is_saved) {
    open_small();
    window->action(QStringLiteral("view.report"))->trigger();
    ReportView& view = window->report_view();
    ASSERT_TRUE(QTest::qWaitFor([&] { return view.pages() != nullptr && !view.known_errors().empty(); }, 30'000));
    // Another author is no reason to look for the usual errors again.
    auto before = view.source();
    Study study = *window->document().study();
    study.project = Project{};
    study.project->author = "A. Author";
    window->document().change(QStringLiteral("Author"), study, 0);
    ASSERT_TRUE(QTest::qWaitFor([&] { return view.source() && view.source() != before; }, 30'000));
    EXPECT_FALSE(view.known_errors().empty());
    // Held, so that no later pages can have its address.
    const auto first = view.pages();
    const auto is_of_light_block = [](const Report& report) {
        return std::any_of(report.items.begin(), report.items.end(), [](const ReportItem& item) {
            const auto* table = std::get_if<ReportTable>(&item);
            return table && std::any_of(table->rows.begin(), table->rows.end(), [](const auto& row) { return row.size() > 1 && row[0] == "Foot block" && row[1] == "Light block"; });
        });
    };
    ASSERT_TRUE(first);
    ASSERT_FALSE(is_of_light_block(first->report()));
    copy_a_table_and_a_picture(view);
    window->document().edit(QStringLiteral("Other block"), [](const Section& section) { return set_material(section, "foot", "light"); });
    ASSERT_TRUE(QTest::qWaitFor([&] { return view.pages() && view.pages() != first && is_of_light_block(view.pages()->report()); }, 30'000));
    const QString path = folder.filePath("small.json");
    ASSERT_TRUE(window->save_report(path));
    EXPECT_TRUE(bytes_of(path).simplified().contains("\"Foot block\", \"Light block\""));
    // A drawing with a fault has no report: what is wrong is told instead.
    window->document().edit(QStringLiteral("Open"), [](const Section& section) { return delete_mark(section, "in", section.spaces[0].at[0]); });
    ASSERT_TRUE(QTest::qWaitFor([&] { return !view.pages(); }, 30'000));
    EXPECT_FALSE(window->save_report(path));
}

// A material that comes first in one section alone must not take the hatch of another one in the next.
TEST(HatchKey, OfSeveralSectionsIsOne) {
    const Study study = read_study(small_study().toStdString()).study;
    const auto with = [](const Section& section) {
        auto findings = std::make_shared<Findings>();
        findings->section = std::make_shared<const Section>(section);
        return std::shared_ptr<const Findings>(findings);
    };
    const Section both = *study.variants[0].section;
    Section light = both;
    std::erase_if(light.pieces, [](const Piece& piece) { return piece.id == "foot"; });
    EXPECT_EQ(hatch_turns(study, light).at("light"), hatch_turns(study, both).at("dense")) << "alike where each section counts by itself";
    EXPECT_EQ(hatch_turns(study, {with(both), with(light)}), hatch_turns(study, both));
    const auto turned = hatch_turns(study, {with(light), with(both)});
    EXPECT_EQ(turned.at("light"), 0);
    EXPECT_EQ(turned.at("dense"), 1);
}

// By the parser of another library (poppler): the catalogue names the language and asks for the title in the window's head.
TEST_F(ReportFile, says_its_language_and_keeps_its_title_and_study) {
    ASSERT_EQ(report(at("r.pdf")), 0);
    const QByteArray bytes = bytes_of(at("r.pdf"));
    EXPECT_TRUE(bytes.contains("/Lang (en-GB)"));
    EXPECT_TRUE(bytes.contains("/DisplayDocTitle true"));
    EXPECT_TRUE(printed_by(QStringLiteral("pdfinfo"), {at("r.pdf")}).contains(QStringLiteral("Ground slab, insulation below")));
    EXPECT_EQ(PdfFile(bytes.toStdString()).study(), bytes_of(sample));
}

TEST_F(ReportFile, the_short_answer_takes_one_page_with_letters_of_8_points_and_more) {
    ASSERT_EQ(report(at("s.pdf"), {"--short"}), 0);
    EXPECT_EQ(PdfFile(bytes_of(at("s.pdf")).toStdString()).pages(), 1);
    // Word boxes by poppler: from foot to head of the letters, some 1.17 of their size in this font.
    const QString boxes = printed_by(QStringLiteral("pdftotext"), {"-bbox", at("s.pdf"), "-"});
    QRegularExpression word(QStringLiteral("yMin=\"([0-9.]+)\" xMax=\"[0-9.]+\" yMax=\"([0-9.]+)\">conditions<"));
    const auto match = word.match(boxes);
    ASSERT_TRUE(match.hasMatch());
    QRegularExpression any(QStringLiteral("yMin=\"([0-9.]+)\" xMax=\"[0-9.]+\" yMax=\"([0-9.]+)\">W/\\(m·K\\)"));
    const auto small = any.match(boxes);
    ASSERT_TRUE(small.hasMatch()) << boxes.left(2000).toStdString();
    EXPECT_GE(small.captured(2).toDouble() - small.captured(1).toDouble(), 8.0);
}

TEST_F(WindowTest, a_report_opens_as_the_study_it_carries) {
    open_small();
    const QString study = folder.filePath(QStringLiteral("small.wallfoot")), pdf = folder.filePath(QStringLiteral("r.pdf"));
    ASSERT_EQ(report_command({study, "--out", pdf, "--short"}), 0);
    const std::string before = write_study(*window->document().study());
    window->document().change(QStringLiteral("other"), rename_variant(*window->document().study(), 0, "other"), 0);
    ASSERT_TRUE(window->open_file(pdf));
    EXPECT_EQ(write_study(*window->document().study()), before);
    EXPECT_TRUE(window->document().path().isEmpty()) << "saving must not write over the report";
    wait_for_rest();
    // A PDF without a study says so, and what is open stays.
    {
        QPdfWriter writer(folder.filePath(QStringLiteral("plain.pdf")));
        QPainter painter(&writer);
        painter.drawText(100, 100, QStringLiteral("nothing"));
    }
    QString said;
    QTimer::singleShot(0, [&] {
        auto* dialog = QApplication::activeModalWidget();
        ASSERT_NE(dialog, nullptr);
        said = dialog->findChild<QListWidget*>()->item(0)->text();
        dialog->close();
    });
    EXPECT_FALSE(window->open_file(folder.filePath(QStringLiteral("plain.pdf"))));
    EXPECT_TRUE(said.contains(QStringLiteral("carries no study"))) << said.toStdString();
    EXPECT_EQ(write_study(*window->document().study()), before);
}

TEST_F(WindowTest, earlier_studies_are_found_by_their_words) {
    open_small();
    QTimer::singleShot(0, window.get(), [this] {
        auto* dialog = qobject_cast<FindDialog*>(QApplication::activeModalWidget());
        ASSERT_NE(dialog, nullptr);
        dialog->look_in(QString::fromStdString(in_tree("samples")));
        EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog->busy(); }, 30'000));
        EXPECT_GE(dialog->table().rowCount(), 4);
        dialog->words().setText(QStringLiteral("beam"));
        EXPECT_EQ(dialog->table().rowCount(), 1);
        dialog->words().setText(QStringLiteral("no such thing"));
        EXPECT_EQ(dialog->table().rowCount(), 0);
        dialog->accept();
        EXPECT_TRUE(dialog->isVisible()) << "nothing is marked";
        dialog->look_in(folder.path());
        dialog->words().clear();
        EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog->busy(); }, 30'000));
        EXPECT_EQ(dialog->table().rowCount(), 1);
        dialog->accept();
    });
    window->action(QStringLiteral("file.find"))->trigger();
    EXPECT_EQ(QFileInfo(window->document().path()).fileName(), QStringLiteral("small.wallfoot"));
}
