// SPDX-License-Identifier: GPL-3.0-or-later
#include <sys/resource.h>

#include <QCheckBox>
#include <QDir>
#include <QFile>
#include <QImage>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QProcess>
#include <QPushButton>
#include <QRegularExpression>
#include <QTableWidget>
#include <QTimer>
#include <csignal>

#include "core/file/study_file.hpp"
#include "tests/ui/window_fixture.hpp"
#include "tests/unit/tree.hpp"
#include "ui/panels/office_dialog.hpp"
#include "ui/panels/records_dialog.hpp"
#include "ui/panels/report_view.hpp"
#include "ui/panels/reports_dialog.hpp"
#include "ui/report/report_command.hpp"

using namespace wallfoot;

namespace {

QByteArray file_bytes(const QString& path) {
    QFile file(path);
    EXPECT_TRUE(file.open(QIODevice::ReadOnly)) << path.toStdString();
    return file.readAll();
}

QString text_of_pdf(const QString& path) {
    QProcess process;
    process.start(QStringLiteral("pdftotext"), {QStringLiteral("-layout"), path, QStringLiteral("-")});
    EXPECT_TRUE(process.waitForFinished(60'000));
    return QString::fromUtf8(process.readAllStandardOutput()).normalized(QString::NormalizationForm_KC);
}

struct Office : ::testing::Test {
    QTemporaryDir folder;
    QString at(const QString& name) const { return folder.filePath(name); }
    QString put(const QString& name, const QByteArray& bytes) const {
        QFile file(at(name));
        EXPECT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(bytes);
        return at(name);
    }
    void SetUp() override { put(QStringLiteral("small.wallfoot"), small_study()); }
    int report(const QStringList& more) const { return report_command(QStringList{at(QStringLiteral("small.wallfoot")), QStringLiteral("--date"), QStringLiteral("2031-05-04"), QStringLiteral("--no-errors")} + more); }
};

}  // namespace

TEST_F(Office, ATemplateHeadsPdfPageAndShortAnswer) {
    const QString office = QString::fromStdString(in_tree("samples/office-template.json"));
    for (const QStringList& more : {QStringList{}, QStringList{QStringLiteral("--short")}}) {
        ASSERT_EQ(report(QStringList{QStringLiteral("--out"), at(QStringLiteral("r.pdf")), QStringLiteral("--template"), office} + more), 0);
        const QString text = text_of_pdf(at(QStringLiteral("r.pdf")));
        const auto name = text.indexOf(QStringLiteral("Fernbeck Fabric Desk")), greeting = text.indexOf(QStringLiteral("Thank you for your enquiry")), answer = text.indexOf(QStringLiteral("Question and answer"));
        EXPECT_TRUE(name >= 0 && name < greeting && greeting < answer) << name << " " << greeting << " " << answer;
        EXPECT_TRUE(text.contains(QStringLiteral("an office that does not exist"))) << "the foot line";
        EXPECT_TRUE(text.contains(QStringLiteral("we have not been on site")));
    }
    ASSERT_EQ(report({QStringLiteral("--out"), at(QStringLiteral("r.html")), QStringLiteral("--template"), office}), 0);
    EXPECT_TRUE(file_bytes(at(QStringLiteral("r.html"))).contains("<img alt=\"Logo of Fernbeck Fabric Desk\" src=\"data:image/svg+xml;base64,"));
    EXPECT_FALSE(file_bytes(at(QStringLiteral("small.wallfoot"))).contains("Fernbeck")) << "never in the study";
}

// By poppler's own reading of the structure: headings, tables with their heads, pictures, in the order of the report.
TEST_F(Office, APdfCanBeReadAloudInItsOrder) {
    ASSERT_EQ(report({QStringLiteral("--out"), at(QStringLiteral("r.pdf")), QStringLiteral("--template"), QString::fromStdString(in_tree("samples/office-template.json"))}), 0);
    const auto told_by = [&](const QStringList& arguments) {
        QProcess process;
        process.start(QStringLiteral("pdfinfo"), arguments + QStringList{at(QStringLiteral("r.pdf"))});
        EXPECT_TRUE(process.waitForFinished(60'000));
        EXPECT_TRUE(process.readAllStandardError().isEmpty()) << "nothing odd about the file";
        return QString::fromUtf8(process.readAllStandardOutput()).normalized(QString::NormalizationForm_KC).replace(QLatin1Char('\t'), QLatin1Char(' '));
    };
    const auto expect_parts = [](const QString& tree, const std::vector<const char*>& parts) {
        qsizetype at_now = 0;
        for (const char* part : parts) {
            const qsizetype found = tree.indexOf(QString::fromUtf8(part), at_now);
            ASSERT_GE(found, 0) << part << " behind " << tree.mid(at_now, 300).toStdString();
            at_now = found + 1;
        }
    };
    EXPECT_TRUE(told_by({}).contains(QRegularExpression(QStringLiteral("Tagged: +yes"))));
    const QString tree = told_by({QStringLiteral("-struct")});
    expect_parts(tree, {"Document", "Figure", "P (block)", "H1 (block)", "Table", "/Scope /Row", "TD", "P (block)", "H2 (block)", "H2 (block)", "Figure", "Figure", "H2 (block)", "Table", "Caption", "TR", "/Scope /Column", "TR", "/Scope /Row", "H3 (block)"});
    // Each picture has its words.
    const QByteArray bytes = file_bytes(at(QStringLiteral("r.pdf")));
    EXPECT_EQ(bytes.count("/Alt "), tree.count(QRegularExpression(QStringLiteral("^ *Figure"), QRegularExpression::MultilineOption)));
    // What stands in an element (of few, since poppler reads a page again for each).
    ASSERT_EQ(report({QStringLiteral("--out"), at(QStringLiteral("r.pdf")), QStringLiteral("--short"), QStringLiteral("--template"), QString::fromStdString(in_tree("samples/office-template.json"))}), 0);
    expect_parts(told_by({QStringLiteral("-struct-text")}), {"\"Fernbeck Fabric Desk\"", "H1 (block)\n    \"Small foot\"", "\"Thank you", "H2 (block)\n    \"Question and answer\"", "\"Base: psi is", "H2 (block)\n    \"It holds under"});
}

TEST_F(Office, WhatIsWrongIsToldBeforeAnythingIsWritten) {
    put(QStringLiteral("r.pdf"), "earlier");
    const auto with = [&](const QByteArray& json) { return report({QStringLiteral("--out"), at(QStringLiteral("r.pdf")), QStringLiteral("--template"), put(QStringLiteral("t.json"), json)}); };
    EXPECT_EQ(with(R"({"office": "A", "logo": "gone.png"})"), 2);
    put(QStringLiteral("half.png"), QByteArray("\x89PNG\r\n\x1a\n", 8) + "not the rest of it");
    EXPECT_EQ(with(R"({"office": "A", "logo": "half.png"})"), 2) << "begins like a picture and is none";
    put(QStringLiteral("half.svg"), "<svg xmlns=\"http://www.w3.org/2000/svg\"><path");
    EXPECT_EQ(with(R"({"office": "A", "logo": "half.svg"})"), 2);
    EXPECT_EQ(with("{"), 2);
    EXPECT_EQ(report({QStringLiteral("--out"), at(QStringLiteral("r.pdf")), QStringLiteral("--template"), at(QStringLiteral("missing.json"))}), 2);
    EXPECT_EQ(file_bytes(at(QStringLiteral("r.pdf"))), QByteArray("earlier"));
    QImage dot(4, 2, QImage::Format_RGB32);
    dot.fill(Qt::black);
    ASSERT_TRUE(dot.save(at(QStringLiteral("dot.jpg"))));
    EXPECT_EQ(with(R"({"logo": "dot.jpg"})"), 0);
}

// A full disk and a limit on the size of files fail in the same place: in the middle of writing.
TEST_F(Office, AReportThatCannotBeWrittenInFullLeavesTheEarlierOne) {
    put(QStringLiteral("r.pdf"), "earlier");
    const auto before = std::signal(SIGXFSZ, SIG_IGN);
    rlimit kept{};
    ASSERT_EQ(getrlimit(RLIMIT_FSIZE, &kept), 0);
    rlimit small = kept;
    small.rlim_cur = 4096;
    ASSERT_EQ(setrlimit(RLIMIT_FSIZE, &small), 0);
    const int status = report({QStringLiteral("--out"), at(QStringLiteral("r.pdf"))});
    setrlimit(RLIMIT_FSIZE, &kept);
    std::signal(SIGXFSZ, before);
    EXPECT_EQ(status, 1);
    EXPECT_EQ(file_bytes(at(QStringLiteral("r.pdf"))), QByteArray("earlier"));
    EXPECT_EQ(QDir(folder.path()).entryList(QDir::Files).size(), 2) << "and nothing half beside it";
}

TEST_F(Office, ManyStudiesEachWithItsReportOrItsReason) {
    QDir(folder.path()).mkpath(QStringLiteral("in/below"));
    for (const char* name : {"in/a.wallfoot", "in/below/A.wallfoot", "in/index.wallfoot"}) put(QString::fromLatin1(name), small_study());
    put(QStringLiteral("in/broken.wallfoot"), "{");
    put(QStringLiteral("in/own.json"), small_study());
    const QString out = at(QStringLiteral("out"));
    QDir().mkpath(out);
    put(QStringLiteral("out/broken.json"), "earlier");
    EXPECT_EQ(report_command({at(QStringLiteral("in")), QStringLiteral("--out-dir"), out, QStringLiteral("--as"), QStringLiteral("json,csv"), QStringLiteral("--no-errors"), QStringLiteral("--date"), QStringLiteral("2031-05-04")}), 1);
    EXPECT_EQ(QDir(out).entryList(QDir::Files, QDir::Name), (QStringList{QStringLiteral("a.csv"), QStringLiteral("a.json"), QStringLiteral("below-A.csv"), QStringLiteral("below-A.json"), QStringLiteral("broken.json"), QStringLiteral("index-2.csv"), QStringLiteral("index-2.json"), QStringLiteral("index.html")}));
    EXPECT_EQ(file_bytes(out + QStringLiteral("/broken.json")), QByteArray("earlier"));
    const QByteArray list = file_bytes(out + QStringLiteral("/index.html"));
    for (const char* part : {"4 studies, 1 of them", "Small foot", "href=\"a.csv\"", "Failed: "}) EXPECT_TRUE(list.contains(part)) << part;
    EXPECT_FALSE(list.contains("href=\"broken.json\"")) << "an earlier report is no report of this study";
    // One report is the same as among many.
    ASSERT_EQ(report_command({at(QStringLiteral("in/a.wallfoot")), QStringLiteral("--out"), at(QStringLiteral("one.json")), QStringLiteral("--no-errors"), QStringLiteral("--date"), QStringLiteral("2031-05-04")}), 0);
    EXPECT_EQ(file_bytes(at(QStringLiteral("one.json"))), file_bytes(out + QStringLiteral("/a.json")));
    // A study is not replaced by its report.
    EXPECT_EQ(report_command({at(QStringLiteral("in/own.json")), QStringLiteral("--out-dir"), at(QStringLiteral("in")), QStringLiteral("--as"), QStringLiteral("json"), QStringLiteral("--no-errors")}), 1);
    EXPECT_EQ(file_bytes(at(QStringLiteral("in/own.json"))), small_study());
}

TEST_F(Office, ABatchReplacesItsOwnReportsAndNobodyElsesFiles) {
    const QString in = at(QStringLiteral("in"));
    QDir().mkpath(in);
    put(QStringLiteral("in/plot.wallfoot"), small_study());
    const auto batch = [&](const char* forms) { return report_command({in, QStringLiteral("--out-dir"), in, QStringLiteral("--as"), QString::fromLatin1(forms), QStringLiteral("--short")}); };
    // An index of somebody's own: nothing is begun.
    put(QStringLiteral("in/index.html"), "<p>My page</p>");
    EXPECT_EQ(batch("csv"), 2);
    EXPECT_EQ(file_bytes(in + QStringLiteral("/index.html")), QByteArray("<p>My page</p>"));
    EXPECT_FALSE(QFile::exists(in + QStringLiteral("/plot.csv")));
    ASSERT_TRUE(QFile::remove(in + QStringLiteral("/index.html")));
    for (const char* form : {"pdf", "html", "csv", "json", "txt"}) {
        const QString name = QStringLiteral("in/plot.") + QLatin1String(form);
        put(name, "{\"plans\": [1, 2]}\r\n");
        EXPECT_EQ(batch(form), 1) << form;
        EXPECT_EQ(file_bytes(at(name)), QByteArray("{\"plans\": [1, 2]}\r\n")) << form;
        ASSERT_TRUE(QFile::remove(at(name)));
    }
    EXPECT_TRUE(file_bytes(in + QStringLiteral("/index.html")).contains("plot.txt is there already"));
    EXPECT_EQ(batch("pdf,html,csv,json,txt"), 0);
    EXPECT_EQ(batch("pdf,html,csv,json,txt"), 0) << "its own are replaced";
}

TEST_F(Office, AFootOfTwoLinesIsPrintedWholeAndALongerOneRefused) {
    const auto foot = [&](int words) { return put(QStringLiteral("t.json"), "{\"foot\": \"" + QByteArray("word ").repeated(words) + "lastword\"}"); };
    ASSERT_EQ(report({QStringLiteral("--out"), at(QStringLiteral("r.pdf")), QStringLiteral("--short"), QStringLiteral("--template"), foot(30)}), 0);
    EXPECT_TRUE(text_of_pdf(at(QStringLiteral("r.pdf"))).contains(QStringLiteral("lastword")));
    EXPECT_EQ(report({QStringLiteral("--out"), at(QStringLiteral("r.pdf")), QStringLiteral("--short"), QStringLiteral("--template"), foot(300)}), 2);
}

TEST_F(Office, WhatABatchIsAskedForMustMakeSense) {
    const QString study = at(QStringLiteral("small.wallfoot")), out = at(QStringLiteral("out"));
    QDir().mkpath(at(QStringLiteral("empty")));
    EXPECT_EQ(report_command({study, QStringLiteral("--out-dir"), out, QStringLiteral("--as"), QStringLiteral("docx")}), 2);
    EXPECT_EQ(report_command({study, QStringLiteral("--out-dir"), out, QStringLiteral("--as"), QStringLiteral(",")}), 2);
    EXPECT_EQ(report_command({study, QStringLiteral("--out-dir"), out, QStringLiteral("--out"), QStringLiteral("x.pdf")}), 2);
    EXPECT_EQ(report_command({study, QStringLiteral("--out-dir"), out, QStringLiteral("--variant"), QStringLiteral("v1")}), 2);
    EXPECT_EQ(report_command({study, QStringLiteral("--out"), at(QStringLiteral("x.pdf")), QStringLiteral("--as"), QStringLiteral("pdf")}), 2);
    EXPECT_EQ(report_command({at(QStringLiteral("empty")), QStringLiteral("--out-dir"), out}), 2);
    EXPECT_EQ(report_command({study, QStringLiteral("--out-dir"), study + QStringLiteral("/below-a-file")}), 2) << "no folder there";
    EXPECT_FALSE(QFile::exists(at(QStringLiteral("x.pdf"))));
    EXPECT_FALSE(QDir(out).exists());
}

TEST_F(WindowTest, reports_of_a_folder_are_written_beside_the_window) {
    write(QStringLiteral("one.wallfoot"), small_study());
    write(QStringLiteral("two.wallfoot"), "{");
    auto* dialog = new ReportsDialog({}, nullptr, window.get());
    dialog->start();
    EXPECT_FALSE(dialog->at_work()) << "nothing is named";
    const auto fields = dialog->findChildren<QLineEdit*>();
    ASSERT_EQ(fields.size(), 2);
    fields[0]->setText(QStringLiteral("/x"));
    EXPECT_EQ(fields[1]->text(), QStringLiteral("/x/reports")) << "it goes along";
    QTest::keyClicks(fields[1], QStringLiteral("2"));
    fields[0]->setText(QStringLiteral("/y"));
    EXPECT_EQ(fields[1]->text(), QStringLiteral("/x/reports2")) << "until one is named";
    dialog->set_folders(folder.path(), folder.filePath(QStringLiteral("reports")));
    dialog->form(QStringLiteral("pdf")).setChecked(false);
    dialog->form(QStringLiteral("html")).setChecked(false);
    dialog->start();
    EXPECT_FALSE(dialog->at_work()) << "no form is ticked";
    dialog->form(QStringLiteral("csv")).setChecked(true);
    dialog->show();
    dialog->start();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog->at_work(); }, 30'000));
    ASSERT_EQ(dialog->table().rowCount(), 2);
    EXPECT_EQ(dialog->table().item(0, 2)->text(), QStringLiteral("one.csv"));
    EXPECT_TRUE(dialog->table().item(1, 3)->text().contains(QStringLiteral("failed")));
    EXPECT_TRUE(QFile::exists(folder.filePath(QStringLiteral("reports/index.html"))));
    // Stopped at once: what is left says so.
    dialog->start();
    dialog->stop().click();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog->at_work(); }, 30'000));
    ASSERT_EQ(dialog->table().rowCount(), 2);
    EXPECT_TRUE(dialog->table().item(1, 3)->text().contains(QStringLiteral("stopped")));
    EXPECT_TRUE(dialog->told().startsWith(QStringLiteral("Stopped: "))) << dialog->told().toStdString();
    EXPECT_TRUE(dialog->told().contains(QStringLiteral(" 0 failed"))) << "to be stopped is no failure";
    dialog->close();
}

TEST_F(WindowTest, a_template_is_kept_for_the_user_and_never_in_the_study) {
    open_small();
    const std::string study = write_study(*window->document().study());
    QTimer::singleShot(0, window.get(), [&] {
        auto* dialog = qobject_cast<OfficeDialog*>(QApplication::activeModalWidget());
        ASSERT_NE(dialog, nullptr);
        EXPECT_TRUE(dialog->office().empty());
        for (auto* button : dialog->findChildren<QPushButton*>())
            if (button->text() == QStringLiteral("Save a cop&y…")) button->click();
        EXPECT_TRUE(dialog->told().contains(QStringLiteral("nothing in this template"))) << "of nothing there is no copy";
        dialog->open_template(write(QStringLiteral("bad.json"), R"({"office": "A", "logo": "gone.png"})"));
        EXPECT_TRUE(dialog->told().contains(QStringLiteral("gone.png")));
        EXPECT_TRUE(dialog->office().empty());
        dialog->open_template(QString::fromStdString(in_tree("samples/office-template.json")));
        EXPECT_TRUE(dialog->told().isEmpty());
        EXPECT_TRUE(dialog->office().logo.has_value());
        dialog->name().setText(QStringLiteral("Another office"));
        const QString contact = dialog->contact().toPlainText();
        dialog->contact().setPlainText(QStringLiteral("1\n2\n3\n4\n5\n6\n7\n8\n9"));
        dialog->accept();
        EXPECT_TRUE(dialog->isVisible()) << "no line is lost unsaid";
        EXPECT_TRUE(dialog->told().contains(QStringLiteral("at most 8")));
        dialog->contact().setPlainText(contact);
        dialog->accept();
    });
    window->action(QStringLiteral("file.template"))->trigger();
    const auto kept = kept_office();
    ASSERT_TRUE(kept);
    EXPECT_EQ(kept->office, "Another office");
    EXPECT_TRUE(kept->logo.has_value());
    window->action(QStringLiteral("view.report"))->trigger();
    ReportView& view = window->report_view();
    ASSERT_TRUE(QTest::qWaitFor([&] { return view.pages() != nullptr; }, 30'000));
    ASSERT_TRUE(view.pages()->report().office);
    EXPECT_EQ(view.pages()->report().office->office, "Another office");
    EXPECT_EQ(write_study(*window->document().study()), study);
    EXPECT_TRUE(window->document().is_clean());
    // Cleared, it is gone for good.
    EXPECT_TRUE(keep_office({}).isEmpty());
    EXPECT_FALSE(kept_office());
}

TEST_F(WindowTest, results_are_issued_and_checked_again_in_the_window) {
    open_small();
    const auto issue = [&](const QString& author) {
        QTimer::singleShot(0, window.get(), [author] {
            auto* dialog = qobject_cast<IssueDialog*>(QApplication::activeModalWidget());
            ASSERT_NE(dialog, nullptr);
            dialog->issue();
            EXPECT_FALSE(dialog->at_work()) << "who and why are asked";
            EXPECT_FALSE(dialog->told().isEmpty());
            if (author.isEmpty()) return dialog->reject();
            dialog->author().setText(author);
            dialog->reason().setPlainText(QStringLiteral("for the file"));
            dialog->issue();
        });
        window->action(QStringLiteral("file.issue"))->trigger();
    };
    const std::string before = write_study(*window->document().study());
    issue({});
    EXPECT_EQ(write_study(*window->document().study()), before);
    issue(QStringLiteral("A. Author"));
    EXPECT_FALSE(window->document().is_clean());
    const auto records = issued_records(*window->document().study());
    ASSERT_EQ(records.size(), 1u);
    EXPECT_EQ(records[0].issue.author, "A. Author");
    EXPECT_TRUE(records[0].whole);
    const std::string issued = write_study(*window->document().study());
    QTimer::singleShot(0, window.get(), [&] {
        auto* dialog = qobject_cast<RecordsDialog*>(QApplication::activeModalWidget());
        ASSERT_NE(dialog, nullptr);
        ASSERT_EQ(dialog->records().rowCount(), 1);
        EXPECT_GE(dialog->findings().rowCount(), 4);
        EXPECT_TRUE(dialog->findings().isColumnHidden(4)) << "nothing was worked out yet";
        dialog->check_again();
        ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog->at_work(); }, 30'000));
        for (int row = 0; row < dialog->findings().rowCount(); ++row) {
            ASSERT_NE(dialog->findings().item(row, 4), nullptr) << row;
            EXPECT_EQ(dialog->findings().item(row, 4)->text(), QStringLiteral("equal"));
        }
        dialog->reject();
    });
    window->action(QStringLiteral("file.records"))->trigger();
    EXPECT_EQ(write_study(*window->document().study()), issued) << "opening and checking change nothing";
    window->document().undo_stack().undo();
    EXPECT_EQ(write_study(*window->document().study()), before);
}
