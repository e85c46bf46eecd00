# SPDX-License-Identifier: GPL-3.0-or-later
"""A headless browser driven over its pipe (Chrome DevTools Protocol: JSON messages ended by a zero byte on two file
descriptors), by mouse and keyboard, with the network off."""
import base64
import json
import os
import select
import shutil
import subprocess
import sys
import tempfile
import time


class Browser:
    def __init__(self, width=1280, height=720):
        program = next((p for p in map(shutil.which, ("chromium-headless-shell", "chromium")) if p), None)
        if not program:
            sys.exit("no browser: install chromium-headless-shell")
        to_read, self.write = os.pipe()
        self.read, to_write = os.pipe()

        def at_three_and_four():
            low, high = os.dup(to_read), os.dup(to_write)
            os.dup2(low, 3)
            os.dup2(high, 4)
            os.set_inheritable(3, True), os.set_inheritable(4, True)

        self.folder = tempfile.mkdtemp(prefix="wallfoot-browser-")
        self.process = subprocess.Popen(
            [program, "--remote-debugging-pipe", "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
             "--disable-background-networking", "--host-resolver-rules=MAP * ~NOTFOUND", "--user-data-dir=" + self.folder, f"--window-size={width},{height}"],
            preexec_fn=at_three_and_four, close_fds=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(to_read), os.close(to_write)
        self.rest, self.number, self.session, self.asked, self.problems = b"", 0, None, [], []
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.call(domain + ".enable")
        self.call("Network.emulateNetworkConditions", offline=True, latency=0, downloadThroughput=0, uploadThroughput=0)
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=False)

    def close(self):
        self.process.kill()
        self.process.wait()
        shutil.rmtree(self.folder, ignore_errors=True)

    def message(self, seconds=60):
        end = time.monotonic() + seconds
        while b"\0" not in self.rest:
            if not select.select([self.read], [], [], max(0, end - time.monotonic()))[0]:
                raise TimeoutError("the browser says nothing")
            part = os.read(self.read, 1 << 20)
            if not part:
                raise EOFError("the browser is gone")
            self.rest += part
        one, self.rest = self.rest.split(b"\0", 1)
        return json.loads(one)

    def note(self, event):
        kind, values = event.get("method"), event.get("params", {})
        if kind == "Network.requestWillBeSent":
            self.asked.append(values["request"]["url"])
        if kind == "Runtime.exceptionThrown":
            self.problems.append(str(values["exceptionDetails"].get("exception", {}).get("description", values["exceptionDetails"]["text"])))
        if kind == "Log.entryAdded" and values["entry"]["level"] == "error":
            self.problems.append(values["entry"]["text"])

    def call(self, method, **values):
        self.number += 1
        request = {"id": self.number, "method": method, "params": values}
        if self.session:
            request["sessionId"] = self.session
        data = json.dumps(request).encode() + b"\0"
        while data:
            data = data[os.write(self.write, data):]
        while True:
            answer = self.message()
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(method + ": " + answer["error"]["message"])
                return answer["result"]
            self.note(answer)

    def open(self, path, scripts=True):
        self.call("Emulation.setScriptExecutionDisabled", value=not scripts)
        self.call("Page.navigate", url="file://" + os.path.abspath(path))
        self.until("document.readyState === 'complete'" + (" && document.documentElement.dataset.ready === 'yes'" if scripts else ""))

    def js(self, expression):
        result = self.call("Runtime.evaluate", expression=expression, returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in result:
            raise RuntimeError(expression + ": " + str(result["exceptionDetails"]))
        return result["result"].get("value")

    def until(self, expression, seconds=30):
        end = time.monotonic() + seconds
        while not self.js(expression):
            if time.monotonic() > end:
                raise TimeoutError(expression)
            time.sleep(0.02)

    def box(self, what):
        """Left, top, width, height of the first match, brought into view."""
        return self.js("(() => { const e = document.querySelector(%s); e.scrollIntoView({ block: 'center' }); const r = e.getBoundingClientRect(); return [r.left, r.top, r.width, r.height]; })()" % json.dumps(what))

    def mouse(self, kind, x, y, **more):
        self.call("Input.dispatchMouseEvent", type=kind, x=x, y=y, **more)

    def click(self, x, y):
        self.mouse("mouseMoved", x, y)
        self.mouse("mousePressed", x, y, button="left", buttons=1, clickCount=1)
        self.mouse("mouseReleased", x, y, button="left", clickCount=1)

    def click_on(self, what):
        left, top, width, height = self.box(what)
        self.click(left + width / 2, top + height / 2)

    def key(self, name, text=None, shift=False):
        codes = {"Tab": 9, "Enter": 13, "PageUp": 33, "PageDown": 34, "End": 35, "Home": 36, "ArrowLeft": 37, "ArrowUp": 38, "ArrowRight": 39, "ArrowDown": 40, " ": 32}
        values = {"key": name, "code": name, "windowsVirtualKeyCode": codes.get(name, ord(name[0])), "modifiers": 8 if shift else 0}
        if text or len(name) == 1:
            values["text"] = text or name
        elif name == "Enter":
            values["text"] = "\r"
        self.call("Input.dispatchKeyEvent", type="keyDown", **values)
        values.pop("text", None)
        self.call("Input.dispatchKeyEvent", type="keyUp", **values)

    def type(self, text):
        self.call("Input.insertText", text=text)

    def shot(self, path):
        with open(path, "wb") as file:
            file.write(base64.b64decode(self.call("Page.captureScreenshot")["data"]))
