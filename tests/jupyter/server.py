"""server.py URL_FOLDER OUT: starts a notebook server for real, types a cell into a new notebook of
the registered kernel through a headless browser, runs it and looks for its figure.

Needs Debian's jupyter-notebook and chromium. Run by tests/jupyter/server.sh.
"""

import asyncio
import base64
import json
import socket
import subprocess
import sys
import time
import urllib.request

from tornado.websocket import websocket_connect

CELL = """import { rocCurve, rocFigure, show } from "meridional";
const values = Array.from({ length: 200 }, (_, row) => row % 20);
const condition = values.map((value, row) => value + (row % 9) > 15);
show(rocFigure(rocCurve({ values, condition }, { positiveWhen: "high" })))"""


# what a reader does with a live figure: the limit is moved, and the point with it
LIVE = """import { accuracyAtCutOffs, limitFigure } from "meridional";
const curve = rocCurve({ values, condition, audience: "journal" }, { positiveWhen: "high" });
show(limitFigure(curve, accuracyAtCutOffs(curve), { limit: 12 }), { live: true })"""


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def wait_for(url, seconds=600):
    end = time.time() + seconds
    while True:
        try:
            return urllib.request.urlopen(url, timeout=5).read()
        except OSError:
            if time.time() > end:
                raise
            time.sleep(0.3)


class Page:
    """One browser page, over its debugging protocol."""

    def __init__(self, connection):
        self.connection, self.number = connection, 0

    async def call(self, method, **params):
        self.number += 1
        await self.connection.write_message(
            json.dumps({"id": self.number, "method": method, "params": params})
        )
        while True:
            message = json.loads(await self.connection.read_message())
            if message.get("id") == self.number:
                return message.get("result")

    async def value(self, expression):
        result = await self.call("Runtime.evaluate", expression=expression, returnByValue=True)
        return result["result"].get("value")

    async def until(self, expression, seconds=600):
        end = time.time() + seconds
        while not await self.value(expression):
            if time.time() > end:
                raise TimeoutError(expression)
            await asyncio.sleep(0.3)


async def check(notebook_url, debugging_port, out):
    pages = json.loads(wait_for(f"http://127.0.0.1:{debugging_port}/json"))
    socket_url = next(page["webSocketDebuggerUrl"] for page in pages if page["type"] == "page")
    connection = await websocket_connect(socket_url, max_message_size=100_000_000)
    page = Page(connection)
    await page.call("Page.navigate", url=notebook_url)
    await page.until("!!(window.Jupyter && Jupyter.notebook && Jupyter.notebook.kernel"
                     " && Jupyter.notebook.kernel.is_connected())")
    await page.value("Jupyter.notebook.get_cell(0).focus_editor(); Jupyter.notebook.edit_mode()")
    # typed, as a person would; brackets are not closed by the editor
    await page.value("Jupyter.notebook.get_cell(0).code_mirror.setOption('autoCloseBrackets', false)")
    for line in CELL.split("\n"):
        await page.call("Input.insertText", text=line + ("" if CELL.endswith(line) else "\n"))
    typed = await page.value("Jupyter.notebook.get_cell(0).get_text()")
    for kind in ("keyDown", "keyUp"):
        await page.call("Input.dispatchKeyEvent", type=kind, modifiers=8, key="Enter",
                        code="Enter", windowsVirtualKeyCode=13)
    try:
        await page.until("[...document.querySelectorAll('.output img')].some((image) =>"
                         " image.complete && image.naturalWidth > 0 && image.alt && image.width > 99)", 30)
    finally:
        text = await page.value("[...document.querySelectorAll('.output')].map((o) => o.innerText).join(' ')")
        picture = await page.call("Page.captureScreenshot", format="png")
        with open(f"{out}/server.png", "wb") as file:
            file.write(base64.b64decode(picture["data"]))
        if text and text.strip():
            print("output text:", text.strip()[:500])
    errors = await page.value("document.querySelectorAll('.output_stderr, .output_error').length")
    assert errors == 0, "the cell printed an error"
    print(f"typed {len(typed)} characters into a cell; its figure is seen")
    await check_live(page, notebook_url, out)


async def check_live(page, notebook_url, out):
    """A live figure in a trusted page with its kernel; then saved, without kernel, as a picture."""
    await page.value("Jupyter.notebook.insert_cell_below('code', 0); 1")
    await page.value(f"Jupyter.notebook.get_cell(1).set_text({json.dumps(LIVE)}); 1")
    await page.value("Jupyter.notebook.execute_cells([1]); 1")
    await page.value("window.addEventListener('error', (event) => { window.faults = (window.faults || '') + event.message; }); 1")
    try:
        await page.until("!!document.querySelector('.meridional-live svg')", 60)
    except TimeoutError:
        print(await page.value("(window.faults || '') + [...document.querySelectorAll('.output')].at(-1).innerHTML.replace(/base64,[^\"]*/g, '').slice(0, 1500)"))
        raise
    finally:
        picture = await page.call("Page.captureScreenshot", format="png")
        with open(f"{out}/live.png", "wb") as file:
            file.write(base64.b64decode(picture["data"]))
    said = "document.querySelector('.meridional-live svg').textContent"
    assert "Refer when ≥ +12.00 D" in await page.value(said), await page.value(said)
    await page.value("(() => { const slider = document.querySelector('.meridional-live input[type=range]');"
                     " slider.value = 3; slider.dispatchEvent(new Event('input')); })()")
    await page.until(f"!{said}.includes('Refer when ≥ +12.00 D')", 10)
    tooltips = await page.value("document.querySelectorAll('.meridional-live svg path').length")
    assert tooltips > 2, "the live figure has no marks"
    print("a live figure: its slider moves the limit to", (await page.value(said)).split("Refer when")[1][:12])
    await page.value("Jupyter.notebook.save_notebook(); 1")
    await page.until("!Jupyter.notebook.dirty", 30)
    await page.value("Jupyter.notebook.session.delete(); 1")
    await asyncio.sleep(2)
    await page.call("Page.navigate", url=notebook_url)
    await page.until("[...document.querySelectorAll('.output img')].filter((image) =>"
                     " image.complete && image.naturalWidth > 0 && image.width > 99).length === 2", 60)
    live = await page.value("document.querySelectorAll('.meridional-live').length")
    assert live == 0, "a saved page without its kernel shows something live"
    print("saved, without its kernel: both pictures stand")


def main(folder, out):
    port, debugging_port = free_port(), free_port()
    server = subprocess.Popen(
        ["jupyter", "notebook", "--no-browser", "--allow-root", "--ip=127.0.0.1", f"--port={port}",
         "--NotebookApp.token=", "--NotebookApp.password=", f"--notebook-dir={folder}"],
        stdout=subprocess.DEVNULL, stderr=open(f"{out}/server.log", "w"))
    browser = subprocess.Popen(
        ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--window-size=1000,1000",
         f"--remote-debugging-port={debugging_port}", f"--user-data-dir={out}/browser", "about:blank"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        wait_for(f"http://127.0.0.1:{port}/api")
        asyncio.run(check(f"http://127.0.0.1:{port}/notebooks/typed.ipynb", debugging_port, out))
    finally:
        browser.terminate()
        server.terminate()
        browser.wait()
        server.wait()


main(*sys.argv[1:])
