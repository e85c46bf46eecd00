// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <QBuffer>
#include <QFile>
#include <QPainter>
#include <QPdfWriter>
#include <QTemporaryDir>
#include <cmath>

#include "core/text/message.hpp"
#include "ui/exchange/pdf_file.hpp"
#include "ui/exchange/picture_file.hpp"
#include "ui/exchange/underlay_store.hpp"

using namespace wallfoot;

namespace {

template <class Act>
Message refusal(Act act) {
    try {
        act();
        return {};
    } catch (const InputFault& fault) {
        return fault.faults().front();
    }
}

std::string encoded(const QImage& image, const char* format) {
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    image.save(&buffer, format, 95);
    return bytes.toStdString();
}

quint32 crc_of(const QByteArray& bytes) {
    quint32 crc = 0xFFFFFFFF;
    for (const char c : bytes) {
        crc ^= static_cast<unsigned char>(c);
        for (int k = 0; k < 8; ++k) crc = crc & 1 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
    }
    return crc ^ 0xFFFFFFFF;
}

QByteArray big_endian(quint32 v) {
    return {QByteArray(1, char(v >> 24)) + char(v >> 16 & 255) + char(v >> 8 & 255) + char(v & 255)};
}

QByteArray pdf_with(const std::function<void(QPainter&)>& draw, int pages = 1) {
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    writer.setPageSize(QPageSize(QPageSize::A4));
    writer.setPageMargins({});
    writer.setResolution(2540);  // 100 units to the millimetre
    QPainter painter(&writer);
    painter.scale(100, 100);
    for (int page = 0; page < pages; ++page) {
        if (page > 0) writer.newPage();
        draw(painter);
    }
    painter.end();
    return bytes;
}

}  // namespace

// The turn a camera notes: tag 0x0112 of Exif, 6 = the top of the thing is at the right of the picture (Exif 2.3,
// from memory). Written byte by byte.
TEST(PictureFile, the_turn_that_a_camera_notes_is_done) {
    QImage image(60, 40, QImage::Format_RGB32);
    image.fill(Qt::white);
    for (int y = 0; y < 40; ++y)
        for (int x = 0; x < 10; ++x) image.setPixelColor(x, y, Qt::red);  // left edge
    std::string jpeg = encoded(image, "JPEG");
    const QByteArray exif = QByteArray::fromHex("ffe10022457869660000" "4d4d002a00000008" "0001" "011200030000000100060000" "00000000");
    ASSERT_EQ(exif.size(), 36);
    jpeg.insert(2, exif.toStdString());
    const QImage upright = decoded_picture(jpeg);
    EXPECT_EQ(upright.size(), QSize(40, 60));
    EXPECT_GT(upright.pixelColor(20, 3).red() - upright.pixelColor(20, 3).green(), 150) << "what was left is at the top";
    EXPECT_LT(upright.pixelColor(20, 50).red() - upright.pixelColor(20, 50).green(), 50);
}

TEST(PictureFile, broken_and_huge_pictures_are_refused_before_they_are_unpacked) {
    QImage image(600, 400, QImage::Format_RGB32);
    image.fill(Qt::white);
    const std::string png = encoded(image, "PNG");
    EXPECT_EQ(refusal([&] { decoded_picture(png.substr(0, 20)); }).code, "picture-damaged");
    EXPECT_EQ(refusal([&] { decoded_picture(""); }).code, "picture-damaged");
    EXPECT_EQ(refusal([&] { decoded_picture("GIF89a is no picture for this"); }).code, "picture-damaged");
    std::string flipped = png;
    for (std::size_t i = 40; i < flipped.size(); i += 7) flipped[i] ^= 0x55;
    EXPECT_EQ(refusal([&] { decoded_picture(flipped); }).code, "picture-damaged");
    // A head that promises 40 000 × 40 000 pixels.
    const QByteArray head = QByteArray("IHDR") + big_endian(40'000) + big_endian(40'000) + QByteArray::fromHex("0802000000");
    const QByteArray bomb = QByteArray::fromHex("89504e470d0a1a0a") + big_endian(13) + head + big_endian(crc_of(head)) + QByteArray::fromHex("00000000") + "IDAT" + big_endian(crc_of("IDAT"));
    const Message fault = refusal([&] { decoded_picture(bomb.toStdString()); });
    EXPECT_EQ(fault.code, "picture-too-many-pixels");
    EXPECT_EQ(fault.args.at("width"), "40000");
    QTemporaryDir folder;
    QFile large(folder.filePath(QStringLiteral("large.png")));
    ASSERT_TRUE(large.open(QIODevice::WriteOnly));
    large.write("\x89PNG\r\n\x1a\n", 8);
    large.resize(200'000'000);
    large.close();
    EXPECT_EQ(refusal([&] { bytes_of_file(large.fileName(), attachment_limit); }).code, "underlay-file-too-large");
    EXPECT_EQ(refusal([&] { bytes_of_file(folder.path(), attachment_limit); }).code, "file-unreadable");
    EXPECT_EQ(refusal([&] { bytes_of_file(folder.filePath(QStringLiteral("none.png")), attachment_limit); }).code, "file-unreadable");
}

// A board of 1000 × 600 mm with spots at known places, seen at a slant; from its corners the spots must come back to 1 %.
TEST(PictureFile, a_tilted_photo_is_straightened_to_one_per_cent) {
    const std::vector<QPointF> spots{{100, 100}, {900, 150}, {480, 300}, {120, 520}, {850, 480}};  // mm from the lower left
    const QPolygonF board{QPointF(0, 600), QPointF(1000, 600), QPointF(1000, 0), QPointF(0, 0)};   // lower left first, y downwards
    const std::array<QPointF, 4> seen{QPointF(210, 980), QPointF(1220, 1130), QPointF(1100, 240), QPointF(330, 180)};
    QTransform camera;
    ASSERT_TRUE(QTransform::quadToQuad(board, QPolygonF{seen[0], seen[1], seen[2], seen[3]}, camera));
    QImage photo(1500, 1300, QImage::Format_RGB32);
    photo.fill(Qt::gray);
    QPainter painter(&photo);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setTransform(camera);
    painter.fillRect(QRectF(0, 0, 1000, 600), Qt::white);
    painter.setPen(Qt::NoPen);
    painter.setBrush(Qt::red);
    for (const QPointF spot : spots) painter.drawEllipse(QPointF(spot.x(), 600 - spot.y()), 12, 12);
    painter.end();
    const Straightened straight = straightened(photo, seen, 1000, 600);
    for (const QPointF spot : spots) {
        // The centre of what is red around where it should be.
        const QPointF where(straight.first.x() + spot.x() / straight.mm_per_pixel, straight.image.height() - straight.first.y() - spot.y() / straight.mm_per_pixel);
        QPointF sum;
        double count = 0;
        const int reach = static_cast<int>(40 / straight.mm_per_pixel);
        for (int y = -reach; y <= reach; ++y)
            for (int x = -reach; x <= reach; ++x) {
                const QPoint at(qRound(where.x()) + x, qRound(where.y()) + y);
                const QColor colour = straight.image.pixelColor(at);
                if (colour.alpha() < 255 || colour.red() - colour.green() < 128) continue;
                sum += QPointF(at) + QPointF(0.5, 0.5);
                ++count;
            }
        ASSERT_GT(count, 20) << spot.x();
        const QPointF off = (sum / count - where) * straight.mm_per_pixel;
        EXPECT_LT(std::hypot(off.x(), off.y()), 0.01 * 600) << spot.x();
        EXPECT_NEAR(count * straight.mm_per_pixel * straight.mm_per_pixel, 3.1416 * 12 * 12, 60) << "its size as well";
    }
}

TEST(PictureFile, corners_of_no_rectangle_are_refused) {
    const QImage photo(100, 100, QImage::Format_RGB32);
    using Corners = std::array<QPointF, 4>;
    const Corners sound{QPointF(10, 90), QPointF(90, 90), QPointF(80, 10), QPointF(20, 10)};
    EXPECT_EQ(refusal([&] { straightened(photo, sound, 100, 100); }).code, "");
    for (const double side : {0.0, -1.0, std::nan(""), HUGE_VAL}) EXPECT_EQ(refusal([&] { straightened(photo, sound, side, 100); }).code, "straighten-impossible");
    EXPECT_EQ(refusal([&] { straightened(photo, {QPointF(10, 90), QPointF(90, 90), QPointF(20, 10), QPointF(80, 10)}, 100, 100); }).code, "straighten-impossible") << "crossed";
    EXPECT_EQ(refusal([&] { straightened(photo, {QPointF(10, 90), QPointF(50, 50), QPointF(90, 10), QPointF(20, 10)}, 100, 100); }).code, "straighten-impossible") << "in a line";
    EXPECT_EQ(refusal([&] { straightened(photo, {QPointF(10, 90), QPointF(10, 90), QPointF(80, 10), QPointF(20, 10)}, 100, 100); }).code, "straighten-impossible") << "twice the same";
    EXPECT_EQ(refusal([&] { straightened(photo, {QPointF(10, NAN), QPointF(90, 90), QPointF(80, 10), QPointF(20, 10)}, 100, 100); }).code, "straighten-impossible");
}

// A page drawn at 1:10: what is 12.34 mm on paper is 123.4 mm in the drawing. Line ends keep to 0.1 mm of the drawing.
TEST(PdfPages, line_ends_of_a_page_are_found_where_they_were_drawn) {
    const std::vector<QLineF> drawn{{12.34, 250, 112.34, 250}, {112.34, 250, 112.34, 200.5}, {30, 30, 77.7, 61.2}};  // mm from the upper left
    const PdfFile file(pdf_with([&](QPainter& painter) {
        painter.setPen(QPen(Qt::black, 0.25));
        for (const QLineF& line : drawn) painter.drawLine(line);
    }).toStdString());
    ASSERT_EQ(file.pages(), 1);
    EXPECT_NEAR(file.size(1).height() * 25.4 / 72, 297, 0.5);
    Underlay underlay;
    underlay.kind = UnderlayKind::pdf;
    underlay.scale = 25.4 / 72 * 10;
    const double height = file.size(1).height() * underlay.scale;
    const auto lines = file.lines(1);
    const auto has_end = [&](QPointF paper) {
        for (const QLineF& line : lines)
            for (const QPointF end : {line.p1(), line.p2()}) {
                const Place at = placed(underlay, end.x(), end.y());
                if (std::hypot(at.x - paper.x() * 10, at.y - (height - paper.y() * 10)) < 0.1) return true;
            }
        return false;
    };
    for (const QLineF& line : drawn) {
        EXPECT_TRUE(has_end(line.p1())) << line.x1();
        EXPECT_TRUE(has_end(line.p2())) << line.x2();
    }
    EXPECT_FALSE(has_end({50, 50}));
    const QImage image = file.image(1, 1e6);
    EXPECT_LE(double(image.width()) * image.height(), 1.01e6);
    EXPECT_NEAR(double(image.height()) / image.width(), 297.0 / 210, 0.01);
}

TEST(PdfPages, pages_are_chosen_and_what_cannot_be_shown_is_said) {
    const PdfFile three(pdf_with([](QPainter& painter) { painter.drawLine(0, 0, 10, 10); }, 3).toStdString());
    EXPECT_EQ(three.pages(), 3);
    EXPECT_EQ(refusal([&] { three.size(4); }).code, "pdf-no-page");
    EXPECT_EQ(refusal([&] { three.image(0, 1e6); }).code, "pdf-no-page");
    EXPECT_EQ(refusal([] { PdfFile(""); }).code, "pdf-damaged");
    EXPECT_EQ(refusal([] { PdfFile("%PDF-1.4\nnothing follows"); }).code, "pdf-damaged");
    // A page locked by a password: the check value (U) fits none that is empty.
    const auto locked = [](const std::string& encrypt, const std::string& box) {
        return "%PDF-1.4\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n2 0 obj\n<< /Type /Pages /Kids [3 0 R] /Count 1 >>\nendobj\n3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [" + box +
               "] >>\nendobj\ntrailer\n<< /Size 4 /Root 1 0 R " + encrypt + " >>\n%%EOF\n";
    };
    const std::string some(64, '5');
    EXPECT_EQ(refusal([&] { PdfFile(locked("/Encrypt << /Filter /Standard /V 1 /R 2 /O <" + some + "> /U <" + some + "> /P -44 >> /ID [<01> <01>]", "0 0 100 100")); }).code, "pdf-locked");
    const PdfFile huge(locked("", "0 0 1000000000 1000000000"));
    EXPECT_EQ(refusal([&] { huge.image(1, 1e6); }).code, "pdf-page-too-large");
}

TEST(UnderlayContent, what_cannot_be_shown_says_why_and_shows_nothing) {
    for (const UnderlayKind kind : {UnderlayKind::picture, UnderlayKind::pdf, UnderlayKind::dxf}) {
        const UnderlayContent content = content_of({"", "", "nonsense", {}}, kind, 1);
        EXPECT_FALSE(content.trouble.isEmpty());
        EXPECT_TRUE(content.levels.empty());
    }
}
