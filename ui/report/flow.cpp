// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/flow.hpp"

namespace wallfoot {

namespace {

/// Puts strips on the last page, or on a new one.
class Pages {
  public:
    explicit Pages(double height) : height_(height) { pages_.emplace_back(); }

    double room_for(const Strip& strip) const { return y_ > 0 ? strip.before + strip.height : on_fresh_page(strip); }
    static double on_fresh_page(const Strip& strip) { return (strip.head ? strip.head->height : 0) + strip.height; }
    bool fits(double height) const { return y_ + height <= height_; }
    bool empty_page() const { return y_ == 0; }
    double height() const { return height_; }

    void new_page() {
        pages_.emplace_back();
        y_ = 0;
    }
    void put(const Strip& strip) {
        if (y_ == 0 && strip.head) place(*strip.head);
        else if (y_ > 0) y_ += strip.before;
        place(strip);
    }
    std::vector<PlacedPage> take() {
        if (pages_.size() > 1 && pages_.back().empty()) pages_.pop_back();
        return std::move(pages_);
    }

  private:
    void place(const Strip& strip) {
        if (strip.paint) pages_.back().push_back({y_, strip.paint});
        y_ += strip.height;
    }
    double height_, y_ = 0;
    std::vector<PlacedPage> pages_;
};

}  // namespace

std::vector<PlacedPage> flow(const std::vector<Strip>& strips, double page_height) {
    Pages pages(page_height);
    for (std::size_t i = 0; i < strips.size();) {
        std::size_t end = i;
        double height = pages.room_for(strips[i]), fresh = Pages::on_fresh_page(strips[i]);
        for (; strips[end].keep_with_next && end + 1 < strips.size(); ++end) {
            const double more = strips[end + 1].before + strips[end + 1].height;
            height += more;
            fresh += more;
        }
        ++end;
        // Too much for one page: as much of it as a page takes, at least what is first.
        for (; fresh > page_height && end > i + 1; --end) {
            const double less = strips[end - 1].before + strips[end - 1].height;
            height -= less;
            fresh -= less;
        }
        if (!pages.fits(height) && !pages.empty_page()) pages.new_page();
        for (; i < end; ++i) pages.put(strips[i]);
    }
    return pages.take();
}

}  // namespace wallfoot
