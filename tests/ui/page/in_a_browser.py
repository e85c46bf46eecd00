#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Pages in one file, as a reader has them: opened from the disk in a browser without a network, by mouse and keyboard, and
without scripts. The numbers they tell are held against those of the command. usage: in_a_browser.py ROOT WALLFOOT [SHOTS]"""
import json
import os
import re
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from devtools import Browser  # noqa: E402

ROOT, WALLFOOT = sys.argv[1:3]
SHOTS = sys.argv[3] if len(sys.argv) > 3 else None
SAMPLE = os.path.join(ROOT, "samples", "slab-insulation-below.wallfoot")
FOLDER = tempfile.TemporaryDirectory(prefix="wallfoot-page-")
ENVIRONMENT = dict(os.environ, QT_QPA_PLATFORM="offscreen")


def run(*words):
    return subprocess.run([WALLFOOT, *words], check=True, capture_output=True, text=True, env=ENVIRONMENT).stdout


def made(name, *words):
    path = os.path.join(FOLDER.name, name)
    if not os.path.exists(path):
        run(*words, "--out", path)
    return path


def report():
    return made("report.html", "report", SAMPLE, "--date", "2031-02-03")


def lesson(number):
    return made(f"lesson{number}.html", "lesson", SAMPLE, "--lesson", str(number))


def asking():
    """Questions beside a second variant, and with a slider."""
    study = os.path.join(FOLDER.name, "asking.wallfoot")
    if not os.path.exists(study):
        with open(SAMPLE, encoding="utf-8") as file:
            changed = json.load(file)
        view = {"layer": "isotherms", "centre": [60, 0], "width": 1300}
        changed["lessons"] = [{"title": "Asking", "steps": [
            {**view, "variant": "aggregate", "beside": "foam", "question": {"kind": "coldest"}},
            {**view, "variant": "soaked", "trial": {"piece": "foot-below", "what": "moisture"}, "question": {"kind": "coldest"}},
            {**view, "variant": "aggregate", "beside": "foam", "question": {"kind": "loses-more", "other": "foam"}}]}]
        with open(study, "w", encoding="utf-8") as file:
            json.dump(changed, file)
    return made("asking.html", "lesson", study)


class Page(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.browser = Browser()

    @classmethod
    def tearDownClass(cls):
        cls.browser.close()

    def setUp(self):
        self.browser.asked.clear(), self.browser.problems.clear()

    def tearDown(self):
        if SHOTS:
            self.browser.shot(os.path.join(SHOTS, self.id().split(".")[-1] + ".png"))
        self.assertEqual(self.browser.problems, [])
        outside = [url[:80] for url in self.browser.asked if not url.startswith(("file:", "data:", "about:"))]
        self.assertEqual(outside, [], "nothing is asked of anyone")

    def seen(self, what):
        return self.browser.js(f"[...document.querySelectorAll({json.dumps(what)})].filter(e => e.offsetParent !== null).length")

    def text(self, what):
        return self.browser.js(f"([...document.querySelectorAll({json.dumps(what)})].find(e => e.offsetParent !== null) || {{ textContent: '' }}).textContent")

    def at_mm(self, figure, x, y):
        """Where a place of the section is on the screen, by the picture's own scale, without zoom."""
        left, top, width, height = self.browser.box(figure + " .frame")
        shown = [float(v) for v in self.browser.js(f"document.querySelector({json.dumps(figure)}).dataset.shown").split(",")]
        return left + (x - shown[0]) / (shown[2] - shown[0]) * width, top + (shown[3] - y) / (shown[3] - shown[1]) * height

    def test_temperatures_are_those_of_the_command(self):
        self.browser.open(report())
        figure = "#variants .state:not(.hidden) figure.look"
        for x, y in ((-700, -75), (50, 600), (50, -400)):
            said = json.loads(run("solve", SAMPLE, "--variant", "foam", "--at", f"{x},{y}", "--json"))
            expected = said["variants"][0]["points"][0]["temperature"]
            self.browser.mouse("mouseMoved", *self.at_mm(figure, x, y))
            found = re.search(r": (-?[0-9.]+) °C", self.text("#variants .readout"))
            self.assertTrue(found, self.text("#variants .readout"))
            self.assertAlmostEqual(float(found.group(1)), expected, delta=0.25)
        self.browser.mouse("mouseMoved", *self.at_mm(figure, -700, 700))
        self.assertIn("air", self.text("#variants .readout"))

    def test_the_wheel_zooms_and_dragging_moves(self):
        self.browser.open(report())
        figure = "#variants .state:not(.hidden) figure.look"
        x, y = self.at_mm(figure, 50, 0)
        self.browser.mouse("mouseWheel", x, y, deltaX=0, deltaY=-800)
        self.browser.until(f"Number(document.querySelector('{figure}').dataset.zoom) > 2")
        before = self.browser.js(f"document.querySelector('{figure} img').style.transform")
        self.browser.mouse("mousePressed", x, y, button="left", buttons=1, clickCount=1)
        self.browser.mouse("mouseMoved", x + 60, y + 40, button="left", buttons=1)
        self.browser.mouse("mouseReleased", x + 60, y + 40, button="left")
        self.assertNotEqual(before, self.browser.js(f"document.querySelector('{figure} img').style.transform"))
        # The place that was under the pointer still is, so its temperature is the same one.
        self.browser.mouse("mouseMoved", x + 61, y + 40)
        self.assertRegex(self.text("#variants .readout"), r"x (4[5-9]|5[0-5]), y -?[0-5]:")

    def test_the_keyboard_alone_reads_a_temperature(self):
        self.browser.open(report())
        self.browser.js("document.querySelector('#variants input').focus()")
        self.browser.key("Tab")
        self.assertEqual(self.browser.js("document.activeElement.className"), "look")
        for _ in range(3):
            self.browser.key("ArrowDown", shift=True)
        self.assertRegex(self.text("#variants .readout"), r"x -?\d+, y -?\d+: ")
        self.browser.key("+")
        self.assertGreater(float(self.browser.js("document.activeElement.dataset.zoom")), 1.2)
        self.browser.key("0")
        self.assertEqual(self.browser.js("document.activeElement.dataset.zoom"), "1.00")

    def test_variants_are_switched_and_the_slider_says_where_it_stops(self):
        self.browser.open(report())
        self.assertEqual(self.seen("#variants .state"), 1)
        first = self.text("#variants .line")
        self.browser.click_on("#variants input[value='1']")
        self.assertEqual(self.seen("#variants .state"), 1)
        self.assertNotEqual(first, self.text("#variants .line"))
        self.browser.js("document.querySelector('#slider input').focus()")
        self.browser.key("End")
        last = self.text("#slider .line")
        self.assertRegex(self.text("#slider .stop"), "It ends at")
        self.browser.key("Home")
        self.assertRegex(self.text("#slider .stop"), "It ends at")
        psi = [float(re.search(r"psi ([0-9.]+)", line).group(1)) for line in (self.text("#slider .line"), last)]
        self.assertLess(psi[0], psi[1], "the wetter block loses more")

    def test_a_lesson_is_gone_through_and_answered(self):
        self.browser.open(lesson(1))
        self.assertEqual(self.seen("section.step"), 1)
        self.browser.key("PageDown")
        self.assertRegex(self.text("#place"), "^2 of")
        figure = "#s2 figure.look"
        said = json.loads(run("solve", SAMPLE, "--variant", "aggregate", "--json"))
        at = next(s for s in said["variants"][0]["surface"] if s["space"] == "in")["at"]
        self.browser.mouse("mouseMoved", *self.at_mm(figure, -700, -75))
        self.assertNotIn("°C", self.text("#s2 .readout"), "what is asked for is not told before")
        self.browser.click(*self.at_mm(figure, at[0] - 300, at[1] + 400))
        self.assertEqual(self.seen("#s2 .guess"), 1)
        self.browser.click_on("#s2 summary")
        self.browser.until("document.querySelector('#s2 details').open && document.querySelector('#s2 .distance').textContent.includes(' mm ')")
        away = float(re.search(r"([0-9]+) mm", self.text("#s2 .distance")).group(1))
        self.assertAlmostEqual(away, 500, delta=12)
        self.browser.click_on("#again")
        self.assertEqual(self.seen("#s2 .guess"), 0)
        self.browser.js("document.activeElement.blur()")
        for _ in range(3):
            self.browser.key("ArrowRight")
        self.assertRegex(self.text("#place"), "^5 of")
        change = {v["id"]: next(p for p in v["psi"])["value"] for v in json.loads(run("solve", SAMPLE, "--json"))["variants"]}
        self.browser.click_on("#s5 input")
        self.browser.type("0,05")
        self.browser.click_on("#s5 summary")
        self.browser.until("document.querySelector('#s5 .distance').textContent !== ''")
        off = float(re.search(r"([+-]?[0-9.]+) W", self.text("#s5 .distance")).group(1))
        self.assertAlmostEqual(off, 0.05 - (change["foam"] - change["aggregate"]), delta=0.0011)

    def test_a_choice_says_right_or_not(self):
        self.browser.open(lesson(1))
        for _ in range(3):
            self.browser.key("PageDown")
        self.browser.click_on("#s4 input[value='1']")
        self.browser.click_on("#s4 summary")
        self.browser.until("document.querySelector('#s4 .distance').textContent === 'Right.'")

    def test_every_picture_of_a_question_takes_guesses_and_keeps_the_secret(self):
        self.browser.open(asking())
        for count, figure, place in ((1, "#s1 .look:first-child", (-300, -75)), (2, "#s1 .look + .look", (150, -400))):
            x, y = self.at_mm(figure, *place)
            self.browser.mouse("mouseMoved", x, y)
            self.assertIn("guess first", self.text(figure + " .readout"))
            self.browser.click(x, y)
            self.assertIn(f"{count} marked", self.text("#s1 .distance"))
        self.browser.key("PageDown")
        self.assertGreater(self.browser.js("document.querySelectorAll('#s2 .state').length"), 1)
        for key in ("Home", "End"):
            self.browser.js("document.querySelector('#s2 input[type=range]').focus()")
            self.browser.key(key)
            figure = "#s2 .state:not(.hidden) .look"
            self.browser.click(*self.at_mm(figure, -300, -75))
            self.assertIn("guess first", self.text(figure + " .readout"))
        self.assertIn("2 marked", self.text("#s2 .distance"))
        self.assertEqual(self.seen("#s2 .guess"), 2)
        self.browser.click_on("#s2 summary")
        self.browser.until("document.querySelector('#s2 .distance').textContent.includes(' mm ')")
        self.assertGreater(self.seen("#s2 .place"), 0)

    def test_psi_is_not_told_before_the_answer(self):
        self.browser.open(asking())
        told = self.browser.js("[...document.querySelectorAll('section.step')].map(step => [...step.querySelectorAll('figure.look')].map(f => f.textContent + f.getAttribute('aria-label') + f.querySelector('img').alt).join(' '))")
        for one in told:
            self.assertNotRegex(one, r"psi|fRsi|coldest")
        self.assertEqual(self.browser.js("[...document.querySelectorAll('.question details')].filter(d => d.textContent.includes('psi ')).length"), 3)

    def test_texts_of_the_variant_beside_stand_on_the_right(self):
        self.browser.open(asking())
        second = "#s1 .look + .look"
        left, top, width, height = self.browser.box(second + " .frame")
        self.browser.mouse("mouseMoved", left + width * 0.75, top + height * 0.5)
        for what in (".readout", "figcaption"):
            self.assertNotEqual(self.text(f"{second} {what}"), "")
            x, y, wide, high = self.browser.box(f"{second} {what}")
            self.assertGreaterEqual(x, left + width / 2 - 2)
            hit = self.browser.js(f"document.elementFromPoint({x + wide - 20}, {y + high / 2}) === document.querySelector('{second} {what}')")
            self.assertTrue(hit, "not clipped")

    def test_keys_and_wheel_of_the_browser_stay_its_own(self):
        self.browser.open(lesson(1))
        self.browser.js("window.kept = 0; window.addEventListener('keydown', e => { if (e.defaultPrevented) ++window.kept; })")
        send = "document.querySelector('%s').dispatchEvent(new KeyboardEvent('keydown', { key: '%s', %sKey: true, bubbles: true, cancelable: true }))"
        self.browser.key("PageDown")
        self.assertEqual(self.browser.js("window.kept"), 1)
        for what in ("body", "#s2 figure.look"):
            for modifier, key in (("alt", "ArrowLeft"), ("alt", "ArrowRight"), ("meta", "ArrowLeft"), ("ctrl", "+"), ("ctrl", "-"), ("ctrl", "0")):
                self.browser.js(send % (what, key, modifier))
        self.assertEqual(self.browser.js("window.kept"), 1)
        self.assertRegex(self.text("#place"), "^2 of")
        self.assertEqual(self.browser.js("document.querySelector('#s2 figure.look').dataset.zoom"), "1.00")
        wheel = "document.querySelector('#s2 .frame').dispatchEvent(new WheelEvent('wheel', { deltaY: %d, cancelable: true }))"
        self.assertTrue(self.browser.js(wheel % 100), "the page scrolls")
        self.assertFalse(self.browser.js(wheel % -100), "the picture zooms")
        self.assertFalse(self.browser.js(wheel % 100))

    def test_a_step_fits_one_screen_and_is_answered_by_keyboard(self):
        self.browser.open(lesson(1))
        for step in range(1, 8):
            wide, high = self.browser.js("[innerWidth, innerHeight]")
            self.assertLessEqual(self.browser.js("document.documentElement.scrollWidth"), wide)
            for what in ("figure.look .frame", ".pair", ".bar", "summary"):
                for left, top, right, bottom in self.browser.js(f"[...document.querySelectorAll('#s{step} {what}')].map(e => {{ const r = e.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]; }})"):
                    # 2 px: rounding of a layout in fractions of a pixel.
                    if what != ".pair" and bottom > top:
                        self.assertLessEqual(bottom, high + 2, (step, what))
                    self.assertLessEqual(right, wide + 2, (step, what))
            self.browser.key("PageDown")
        self.browser.js("document.activeElement.blur()")
        for _ in range(5):
            self.browser.key("PageUp")
        self.assertRegex(self.text("#place"), "^2 of")
        self.browser.js("document.querySelector('#again').focus()")
        self.browser.key("Tab")
        self.assertEqual(self.browser.js("document.activeElement.className"), "look")
        self.browser.key("ArrowRight")
        self.browser.key("Enter")
        self.assertIn("1 marked", self.text("#s2 .distance"))
        self.browser.key("Tab")
        self.assertEqual(self.browser.js("document.activeElement.tagName"), "SUMMARY")
        self.assertNotEqual(self.browser.js("getComputedStyle(document.activeElement).outlineStyle"), "none", "the focus is seen")
        self.browser.key("Enter")
        self.browser.until("document.querySelector('#s2 .distance').textContent.includes(' mm ')")

    def test_without_scripts_everything_is_there(self):
        for path, what in ((report(), "figure.look"), (lesson(1), "section.step")):
            with self.subTest(path=path):
                self.browser.open(path, scripts=False)
                root = self.browser.call("DOM.getDocument", depth=-1)["root"]["nodeId"]
                nodes = self.browser.call("DOM.querySelectorAll", nodeId=root, selector=what)["nodeIds"]
                self.assertGreater(len(nodes), 2)
                for node in nodes:
                    self.browser.call("DOM.getBoxModel", nodeId=node)  # fails for what is not shown
                self.assertEqual(self.browser.call("DOM.querySelectorAll", nodeId=root, selector=".bar:not(.hidden)")["nodeIds"], [])

    def test_printing_shows_all_and_no_controls(self):
        self.browser.open(lesson(1))
        self.browser.call("Emulation.setEmulatedMedia", media="print")
        try:
            self.assertGreater(self.seen("section.step"), 3)
            self.assertEqual(self.seen(".bar"), 0)
            self.assertEqual(self.seen(".cross"), 0)
            self.browser.js("window.dispatchEvent(new Event('beforeprint'))")
            self.assertEqual(self.browser.js("document.querySelectorAll('details:not([open])').length"), 0)
            self.browser.js("new Promise(done => setTimeout(done, 50))")
            self.browser.js("window.dispatchEvent(new Event('afterprint'))")
            self.browser.js("new Promise(done => setTimeout(done, 50))")
            self.assertEqual(self.browser.js("document.querySelectorAll('details[open], .place').length"), 0, "paper alone shows the answers")
            self.browser.open(asking())
            first, second = self.browser.box("#s1 .pair > .look"), self.browser.box("#s1 .look + .look")
            self.assertEqual(first[0], second[0])
            tops = self.browser.js("[...document.querySelectorAll('#s1 .look')].map(e => e.getBoundingClientRect().top)")
            self.assertGreaterEqual(tops[1], tops[0] + first[3] - 1, "one below the other")
            self.assertEqual(self.browser.js("getComputedStyle(document.querySelector('#s1 .look + .look .frame')).clipPath"), "none")
        finally:
            self.browser.call("Emulation.setEmulatedMedia", media="")

    def test_files_are_small_valid_and_described(self):
        for path in (report(), lesson(1), lesson(2)):
            with self.subTest(path=path):
                self.assertLessEqual(os.path.getsize(path), 5_000_000)
                with open(path, encoding="utf-8") as file:
                    html = file.read()
                self.assertNotRegex(re.sub(r'"data:[^"]*"', '""', html), r"(?:src|href)=\"(?!data:|#|\")")
                images = re.findall(r"<img [^>]*>", html)
                self.assertGreater(len(images), 3)
                for image in images:
                    self.assertRegex(image, r'alt="[^"]{20,}"')
                told = subprocess.run(["tidy", "-errors", "-quiet", "-utf8", "--drop-empty-elements", "no", path], capture_output=True, text=True)
                self.assertEqual(told.stderr, "", "HTML as tidy reads it")


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
