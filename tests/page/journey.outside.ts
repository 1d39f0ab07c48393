import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import axe from "axe-core";
import { unzipSync } from "fflate";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { pathOf } from "../builders/program.js";

const address = `file://${resolve("out/pages/study.html")}`;

// A real browser, from the file system with the network off; `npm run pages` has built the page.
describe("a study in one page", () => {
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let folder: string;
  let requests: string[];
  let complaints: string[];

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "meridional-journey-"));
    browser = await chromium.launch({
      executablePath: pathOf("chromium"),
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--disable-component-update",
      ],
    });
  });
  afterAll(async () => {
    await browser?.close();
    await rm(folder, { recursive: true, force: true });
  });

  beforeEach(async () => {
    context = await browser.newContext({
      offline: true,
      viewport: { width: 1024, height: 900 },
      acceptDownloads: true,
    });
    requests = [];
    complaints = [];
    context.on("request", (request) => requests.push(request.url()));
    page = await context.newPage();
    // busier machines than ours run this
    page.setDefaultTimeout(180_000);
    page.on("console", (message) => complaints.push(message.text()));
    page.on("pageerror", (error) => complaints.push(String(error)));
    await page.goto(address);
    await page.getByLabel("Files of the study").waitFor();
  });

  // whatever was done: nothing was stopped, nothing was asked of a network, nothing was stored
  afterEach(async () => {
    const { blocked, stored } = await page.evaluate(() => {
      // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
      const here = globalThis as any;
      return {
        blocked: here.blockedHere,
        stored: [here.localStorage.length, here.sessionStorage.length, here.document.cookie],
      };
    });
    expect(blocked).toEqual([]);
    expect(stored).toEqual([0, 0, ""]);
    expect(complaints).toEqual([]);
    expect(requests[0]).toBe(address);
    // a blob of this page is the only other thing that is read
    expect(requests.slice(1).filter((url) => !url.startsWith("blob:null/"))).toEqual([]);
    expect(requests.length).toBeLessThan(6);
    await context.close();
  });

  const open = (name: string) => page.getByRole("heading", { level: 2, name }).waitFor();
  const press = (name: string) => page.getByRole("button", { name, exact: true }).click();
  const said = () => page.locator("#said").textContent();
  const saved = async (name: string) => {
    const [download] = await Promise.all([page.waitForEvent("download"), press(name)]);
    const path = join(folder, download.suggestedFilename());
    await download.saveAs(path);
    return path;
  };
  const file = async (name: string, content: string | Buffer) => {
    const path = join(folder, name);
    await writeFile(path, content);
    return path;
  };
  const faults = async () => {
    // the page's policy lets no script in but its own; the test's comes by the browser's own door
    await page.evaluate(axe.source);
    return page.evaluate(async () => {
      // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
      const { violations } = await (globalThis as any).axe.run({
        runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
        iframes: false,
      });
      return violations.map(({ id, nodes }: { id: string; nodes: { html: string }[] }) =>
        [id, ...nodes.map(({ html }) => html)].join(" "),
      );
    });
  };

  it("goes from two exports to a report with nothing asked of a network, and without a fault for any reader", async () => {
    await press("Take invented data to practise");
    await press("Look at the columns");
    await open("Say what the columns are");
    expect(await faults()).toEqual([]);
    expect(await page.getByText("0 of 400 match as written").count()).toBeGreaterThan(0);
    await page.getByLabel("Ids of the two files").selectOption({ label: "without leading zeros" });
    await page.getByText("Children in both files: 400 match").waitFor();
    await press("Agree to all of these");
    await page.getByText("The study files are made").waitFor();
    const key = await saved("Save the key table");
    expect((await readFile(key)).includes("children.csv")).toBe(true);
    await press("Look at the cells");
    await open("Look at the cells");
    expect(await faults()).toEqual([]);
    await press("Write the question down");
    await open("Write the question down");
    await page.getByLabel("Title").fill("An invented study");
    await page.getByLabel("Question, in one line").fill("Does the page work?");
    await page.getByLabel("Limit in dioptres").first().fill("2");
    await page.getByLabel("Limit in dioptres").last().fill("1.5");
    for (const where of await page.getByLabel("Where it is").all()) await where.selectOption(">=");
    await page.getByLabel("Were those who passed examined").selectOption("complete");
    await page.getByLabel("Sensitivity of at least").fill("0.5");
    expect(await faults()).toEqual([]);
    await press("Go on to the run");
    await open("Run it");
    expect(await page.getByText(/Still to be written/).textContent()).not.toContain("the title");
    expect(await faults()).toEqual([]);
    await press("Run the study");
    await open("Take the report");
    expect(await faults()).toEqual([]);
    expect(await page.locator(".summary").textContent()).toContain("sensitivity");
    expect(await page.getByText("May be passed on").count()).toBe(1);
    expect(await page.getByText("Exact counts, not to be passed on").count()).toBe(1);
    expect(await page.getByText("Key table, never passed on").count()).toBe(1);
    const frame = page.frameLocator('iframe[title="The report"]');
    expect(await frame.locator("h1").textContent()).toBe("An invented study");
    expect(await frame.locator("figure img").count()).toBeGreaterThan(2);
    await press("Open the report full size");
    const size = await page.locator('iframe[title="The report"]').boundingBox();
    expect(size?.height).toBeGreaterThan(0.8 * 900);
    await press("Back to the page");
    await page.locator("dialog.report[open]:not(:modal)").waitFor();
    // back to the question, and on: the report is of the new one
    await press("4. Write the question down");
    expect(await page.getByLabel("Title").inputValue()).toBe("An invented study");
    const protocol = JSON.parse(await readFile(await saved("Save protocol.json"), "utf8"));
    expect(protocol.conditions[0].target).toMatchObject({ relation: ">=", limit: 2 });
    expect(protocol.criteria).toEqual({ sensitivityAtLeast: 0.5 });
  });

  it("can be gone through with the keyboard alone", async () => {
    const tabTo = async (name: string) => {
      for (let step = 0; step < 60; step++) {
        const text = await page.evaluate(() => {
          // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
          const { activeElement } = (globalThis as any).document;
          return activeElement?.textContent ?? "";
        });
        if (text === name) return;
        await page.keyboard.press("Tab");
      }
      throw new Error(`no way to ${name}`);
    };
    await tabTo("Take invented data to practise");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Look at the columns", exact: true }).waitFor();
    await tabTo("Look at the columns");
    await page.keyboard.press("Enter");
    await open("Say what the columns are");
    const heading = await page.evaluate(() => {
      // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
      return (globalThis as any).document.activeElement.textContent;
    });
    expect(heading).toBe("Say what the columns are");
    await tabTo("Agree to all of these");
    await page.keyboard.press("Enter");
    await page.getByText("What would be lost").waitFor({ state: "detached" });
  });

  it("says in plain words what is wrong with a file", async () => {
    const chooser = page.getByLabel("Files of the study");
    const refused = async (path: string) => {
      await chooser.setInputFiles(path);
      await page.locator("#said:not(.doing):not(:empty)").waitFor();
      if ((await page.locator("#said.wrong").count()) === 0) await press("Look at the columns");
      await page.locator("#said.wrong").waitFor();
      const text = await said();
      await page.reload();
      await chooser.waitFor();
      requests.splice(1);
      return text;
    };
    expect(await refused(await file("letter.pdf", Buffer.from("%PDF-1.7\0\0\x01\x02")))).toBe(
      "This needs a table, got a binary file (letter.pdf); CSV, TSV, XLSX and Parquet are read; save it as one of these.",
    );
    expect(await refused(await file("data.parquet", "PAR1 more of it PAR1"))).toContain(
      "got Parquet (data.parquet); save the table as CSV",
    );
    expect(await refused(await file("large.csv", Buffer.alloc(200_000_000, 97)))).toContain(
      "large.csv has 200.0 MB; a page takes files of at most 50.0 MB",
    );
    expect(await refused(await file("draft.json", "{]"))).toContain("draft.json is no JSON");
    expect(
      await refused(
        await file(
          "protocol.json",
          '{"kind":"protocol","sources":{"readings":{"file":"a.csv"},"findings":{}}}',
        ),
      ),
    ).toContain(
      'The draft names a.csv, which was not chosen. It is one of the study files: the button "Save the study files" of step 2',
    );
    expect(
      await refused(await file("broken.xlsx", Buffer.from("PK\x03\x04 no workbook", "latin1"))),
    ).toContain("requires an intact XLSX workbook".replace("requires", "needs"));
  });

  it("runs nothing of a hostile file, and shows it as it is", async () => {
    const bad = "<img src=x onerror=alert(1)>";
    const rows = (of: (row: number) => string) =>
      Array.from({ length: 40 }, (_, row) => of(row)).join("\n");
    const screening = `Pupil number,Seen on,Eye,Sphere,Cylinder,Axis,Age in months,"${bad}","<script>alert(2)</script>",constructor\n${rows(
      (row) =>
        `"${row % 20}${bad}",2026-03-0${1 + (row % 9)},${row < 20 ? "R" : "L"},+1.00,-0.50,90,${60 + (row % 9)},"${bad}","</script><script>alert(3)</script>",=1+1`,
    )}`;
    const clinic = `Pupil number,Exam date,Eye,Sphere,Cylinder,Axis\n${rows(
      (row) =>
        `"${row % 20}${bad}",2026-04-0${1 + (row % 9)},${row < 20 ? "R" : "L"},+1.${row % 2 ? "25" : "50"},-0.50,90`,
    )}`;
    page.on("dialog", (dialog) => {
      complaints.push(`a dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    await page
      .getByLabel("Files of the study")
      .setInputFiles([await file(`${"<b>bold"}.csv`, screening), await file("clinic.csv", clinic)]);
    await press("Look at the columns");
    await open("Say what the columns are");
    expect(await page.locator("#step img, #step script, #step b").count()).toBe(0);
    expect(await page.locator("#step th", { hasText: bad }).count()).toBeGreaterThan(0);
    // what nobody could tell goes, so that all else is left
    for (let turn = 0; turn < 20; turn++) {
      const at = await page.evaluate(() => {
        // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
        const menus = [...(globalThis as any).document.querySelectorAll("#step select")];
        return menus.findIndex(({ id, value }) => id.startsWith("fate-") && value === "open");
      });
      if (at < 0) break;
      await page.locator("#step select").nth(at).selectOption("drop");
      await page.locator("body:not(.busy)").waitFor();
    }
    const ids = page.getByLabel("Ids of the two files");
    if ((await ids.count()) > 0) await ids.selectOption({ label: "as written" });
    await page.getByText("The study files are made").waitFor();
    await press("4. Write the question down");
    await open("Write the question down");
    await page.getByLabel("Title").fill(`${bad}</script><script>alert(4)</script>`);
    await page.getByLabel("Who sees the report").selectOption("journal");
    await page.getByLabel("Were those who passed examined").selectOption("complete");
    for (const limit of await page.getByLabel("Limit in dioptres").all()) await limit.fill("1.1");
    for (const where of await page.getByLabel("Where it is").all()) await where.selectOption(">=");
    await press("Go on to the run");
    await open("Run it");
    await press("Run the study");
    await page.locator("#said.wrong, h2:has-text('Take the report')").first().waitFor();
    expect(await said()).toBe("");
    const frame = page.frameLocator('iframe[title="The report"]');
    expect(await frame.locator("h1").textContent()).toBe(
      `${bad}</script><script>alert(4)</script>`,
    );
    expect(await frame.locator("script, img[src=x]").count()).toBe(0);
  });

  it("continues a key table that was brought along, at every look", async () => {
    const prepare = async () => {
      await press("Take invented data to practise");
      await press("Look at the columns");
      await open("Say what the columns are");
      await page
        .getByLabel("Ids of the two files")
        .selectOption({ label: "without leading zeros" });
      await page.getByText("Children in both files: 400 match").waitFor();
      await press("Agree to all of these");
      await page.getByText("The study files are made").waitFor();
    };
    const key = async () => unzipSync(await readFile(await saved("Save the key table")));
    await prepare();
    const { "children.csv": first } = await key();
    const path = await file("children.csv", Buffer.from(first));
    await page.reload();
    requests.splice(1);
    await page.getByText("Go on with something saved before").click();
    await page.getByLabel("Key table").setInputFiles(path);
    await page.getByText("The key table is read").waitFor();
    await prepare();
    expect(Buffer.from((await key())["children.csv"]).toString()).toBe(
      Buffer.from(first).toString(),
    );
    // looked at once more, with less in it
    await page.getByLabel("Axis becomes").first().selectOption("drop");
    await page.getByText("The study files are made").waitFor();
    expect(Buffer.from((await key())["children.csv"]).toString()).toBe(
      Buffer.from(first).toString(),
    );
  });

  it("takes what words in cells mean, and counts anew", async () => {
    const cell = (row: number) =>
      row % 10 === 3 ? "n.m.,," : `+1.${row % 2 ? "25" : "50"},-0.50,90`;
    const rows = (start: string, of: (row: number) => string) =>
      [start, ...Array.from({ length: 40 }, (_, row) => of(row))].join("\n");
    const screening = rows(
      "Pupil number,Seen on,Eye,Sphere,Cylinder,Axis,Age in months",
      (row) => `${row % 20},2026-03-09,${row < 20 ? "R" : "L"},${cell(row)},${60 + (row % 20)}`,
    );
    const clinic = rows(
      "Pupil number,Exam date,Eye,Sphere,Cylinder,Axis",
      (row) => `${row % 20},2026-04-0${1 + (row % 9)},${row < 20 ? "R" : "L"},+1.75,-0.50,90`,
    );
    await page
      .getByLabel("Files of the study")
      .setInputFiles([await file("screening.csv", screening), await file("clinic.csv", clinic)]);
    await press("Look at the columns");
    await page.getByText("The study files are made").waitFor();
    await press("Look at the cells");
    await open("Look at the cells");
    await page.getByText("readings.csv: 40 rows, 4 cells set aside").waitFor();
    await page.getByLabel('What "n.m." means').selectOption("unreadable");
    await page.getByText("readings.csv: 40 rows, 0 cells set aside").waitFor();
    const mapping = JSON.parse(
      await (async () => {
        await page.getByText("The mapping as text").click();
        return page.getByLabel("columns.json").inputValue();
      })(),
    );
    expect(mapping.readings[0].marks).toEqual({ "n.m.": "unreadable" });
  });

  /** Two invented exports, up to the study files; cells give the words for why a child was examined. */
  const prepared = async (reasons: readonly string[]) => {
    const rows = (start: string, of: (row: number) => string) =>
      [start, ...Array.from({ length: 60 }, (_, row) => of(row))].join("\n");
    const side = (row: number) => (row < 30 ? "R" : "L");
    const screening = rows("Pupil number,Seen on,Eye,Sphere,Cylinder,Axis,Age in months", (row) => {
      const power = row % 10 === 3 ? "n.m.,," : `-1.${row % 2 ? "25" : "50"},-0.50,90`;
      return `${row % 30},2026-03-09,${side(row)},${power},${60 + (row % 30)}`;
    });
    const clinic = rows(
      "Pupil number,Exam date,Eye,Sphere,Cylinder,Axis,Reason for exam",
      (row) =>
        `${row % 30},2026-04-0${1 + (row % 9)},${side(row)},-1.75,-0.50,90,${reasons[row % reasons.length]}`,
    );
    const pdf = Buffer.from("%PDF-1.7\n1 0 obj\n<< /Type /Catalog >>\nendobj\n");
    await page
      .getByLabel("Files of the study")
      .setInputFiles([
        await file("screening.csv", screening),
        await file("minutes.pdf", pdf),
        await file("clinic.csv", clinic),
      ]);
    await page.locator("#said.wrong").waitFor();
    expect(await said()).toBe(
      "This needs a table, got a binary file (minutes.pdf); CSV, TSV, XLSX and Parquet are read; save it as one of these. screening.csv and clinic.csv: read.",
    );
    await press("Look at the columns");
    await open("Say what the columns are");
    const role = page.getByLabel("Reason for exam is taken for");
    await page.locator("body:not(.busy)").waitFor();
    if ((await role.inputValue()) !== "verification-reason") {
      await role.selectOption("verification-reason");
    }
    await page.getByText("The study files are made").waitFor();
  };
  const limits = async (limit: string, relation: string) => {
    for (const one of await page.getByLabel("Limit in dioptres").all()) await one.fill(limit);
    for (const one of await page.getByLabel("Where it is").all()) await one.selectOption(relation);
  };

  it("keeps all that was written when a column is changed, and says what could not be kept", async () => {
    await prepared(["screening referral", "GP letter", "parent request", "random draw"]);
    await press("Look at the cells");
    // what was read unasked stands there, to be changed
    const unasked = page.getByLabel('What "parent request" means');
    expect(await unasked.inputValue()).toBe("self-presented");
    await unasked.selectOption("unknown");
    await page.getByText("The mapping is taken over").waitFor();
    await page.getByLabel('What "GP letter" means').selectOption("self-presented");
    await page.getByText("findings.csv: 60 rows, 0 cells set aside").waitFor();
    await page.getByLabel('What "n.m." means').selectOption("unreadable");
    await page.getByText("readings.csv: 60 rows, 0 cells set aside").waitFor();
    expect(await faults()).toEqual([]);
    await press("Write the question down");
    await open("Write the question down");
    await page.getByLabel("Title").fill("An invented study");
    await page.getByLabel("Question, in one line").fill("Is it kept?");
    await page.getByLabel("Who sees the report").selectOption("journal");
    await page.getByLabel("Specificity of at least").fill("0.7");
    await limits("-1.25", "<=");
    const change = async (column: string, becomes: string) => {
      await press("2. Say what the columns are");
      await page.getByLabel(`${column} becomes`).selectOption(becomes);
      await page.getByText("What was written in the later steps is kept").waitFor();
      await press("4. Write the question down");
      await open("Write the question down");
    };
    const written = async () =>
      JSON.parse(await readFile(await saved("Save protocol.json"), "utf8"));
    const mapping = async () =>
      JSON.parse(await readFile(await saved("Save columns.json"), "utf8"));
    await change("Age in months", "drop");
    await page
      .getByText("The files or columns were changed. All that was written before is kept.")
      .waitFor();
    expect(await written()).toMatchObject({
      title: "An invented study",
      question: "Is it kept?",
      audience: "journal",
      criteria: { specificityAtLeast: 0.7 },
      conditions: [
        { target: { limit: -1.25, relation: "<=" }, referWhen: { limit: -1.25, relation: "<=" } },
      ],
    });
    expect(await mapping()).toMatchObject({
      readings: [{ marks: { "n.m.": "unreadable" } }],
      findings: [
        {
          verificationReason: {
            codes: { "GP letter": "self-presented", "parent request": "unknown" },
          },
        },
      ],
    });
    // a file that is taken away and chosen again
    await press("1. Bring the files");
    await press("Take clinic.csv away");
    await page.getByLabel("Files of the study").setInputFiles(join(folder, "clinic.csv"));
    await page.locator("#said", { hasText: "clinic.csv: read." }).waitFor();
    await press("Look at the columns");
    await open("Say what the columns are");
    await page.locator("body:not(.busy)").waitFor();
    const role = page.getByLabel("Reason for exam is taken for");
    if ((await role.inputValue()) !== "verification-reason") {
      await role.selectOption("verification-reason");
    }
    await page.getByText("The study files are made").waitFor();
    await press("4. Write the question down");
    await open("Write the question down");
    expect(await written()).toMatchObject({ title: "An invented study" });
    expect((await mapping()).findings[0].verificationReason.codes).toMatchObject({
      "GP letter": "self-presented",
    });
    await change("Reason for exam", "drop");
    await page
      .getByText(
        /What was written before is kept, but for: why children were examined \(.*"GP letter"/,
      )
      .waitFor();
    expect((await written()).title).toBe("An invented study");
    expect((await mapping()).findings[0].verificationReason).toBe("unknown");
  });

  it("asks how the programme decided and how common the condition is, and reads it all out before the run", async () => {
    await prepared(["screening referral", "random draw"]);
    await press("4. Write the question down");
    await open("Write the question down");
    // no number stands like an answer
    for (const one of await page.getByLabel("Limit in dioptres").all()) {
      expect(await one.inputValue()).toBe("");
      expect(await one.getAttribute("aria-invalid")).toBe("true");
    }
    expect(await page.getByLabel("How did the programme").getAttribute("aria-invalid")).toBe(
      "true",
    );
    expect(await faults()).toEqual([]);
    await press("Go on to the run");
    expect(await said()).toBe(
      "Still to be written: the limit at the exam, the limit of the referral.",
    );
    await page.getByLabel("How did the programme").selectOption("limit");
    await limits("-1", "<=");
    await page.getByLabel("Limit in dioptres").last().fill("-0.75");
    const common = page.getByLabel("How common the condition is");
    await common.fill("often");
    expect(await common.getAttribute("aria-invalid")).toBe("true");
    await press("Go on to the run");
    await page.locator("#said.wrong").waitFor();
    expect(await said()).toContain('"How common the condition is"');
    expect(await said()).not.toMatch(/conditions\[|valid protocol/);
    await common.fill("2, 7.5");
    expect(await said()).toBe("");
    const written = async () =>
      JSON.parse(await readFile(await saved("Save protocol.json"), "utf8"));
    expect(await written()).toMatchObject({
      conditions: [{ prevalences: [0.02, 0.075] }],
      programme: { referWhen: { quantity: "M", relation: "<=", limit: -0.75 } },
    });
    await page.getByLabel("How did the programme").selectOption("studied");
    expect((await written()).programme.referWhen).toMatchObject({ limit: -1 });
    await page.getByLabel("Limit in dioptres").nth(1).fill("-1.5");
    expect((await written()).programme.referWhen).toMatchObject({ limit: -1.5 });
    await press("Go on to the run");
    await open("Run it");
    const lines = await page.locator("#step li").allTextContents();
    expect(lines).toContain("Referred by the reading: M ≤ -1.5 D");
    expect(lines).toContain("The programme referred: by the referral under study");
    expect(lines).toContain("How common it is where the referral would be used: 2, 7.5 per cent");
    expect(await faults()).toEqual([]);
  });

  it("takes its own ZIPs up again as they are", async () => {
    await prepared(["screening referral", "random draw"]);
    const study = await saved("Save the study files");
    await press("4. Write the question down");
    await open("Write the question down");
    await page.getByLabel("Title").fill("An invented draft");
    await limits("-1", "<=");
    const draft = await saved("Save the draft");
    const back = async (path: string) => {
      await page.reload();
      requests.splice(1);
      await page.getByLabel("Files of the study").setInputFiles(path);
      await open("Write the question down");
      return page.getByLabel("Title").inputValue();
    };
    expect(await back(draft)).toBe("An invented draft");
    await press("3. Look at the cells");
    await page.getByText("findings.csv: 60 rows").waitFor();
    expect(await back(study)).toBe("To be written");
    await press("3. Look at the cells");
    await page.getByText("findings.csv: 60 rows").waitFor();
  });

  it("lays its status line over no control, however narrow, and takes files that are dropped anywhere", async () => {
    for (const width of [1100, 390]) {
      await page.setViewportSize({ width, height: 800 });
      const rows = "Pupil number,Seen on,Eye,Sphere,Cylinder,Axis\n1,2026-03-09,R,1,-1,90\n";
      await page.evaluate((text) => {
        // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
        const here = globalThis as any;
        const data = new here.DataTransfer();
        data.items.add(new here.File([text], "dropped.csv"));
        const drop = new here.DragEvent("drop", {
          dataTransfer: data,
          bubbles: true,
          cancelable: true,
        });
        here.document.querySelector("h1").dispatchEvent(drop);
      }, rows);
      await page.locator("#said", { hasText: "dropped.csv: read." }).waitFor();
      const covered = await page.evaluate(() => {
        // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
        const { document } = globalThis as any;
        const line = document.getElementById("said").getBoundingClientRect();
        const whole = document.getElementById("whole").getBoundingClientRect();
        return whole.bottom > line.top || line.height === 0;
      });
      expect(covered).toBe(false);
      // what scrolls ends above the line, so that each control can be brought into view
      await page.getByRole("button", { name: "Look at the columns" }).click({ trial: true });
      await page.reload();
      requests.splice(1);
      await page.getByLabel("Files of the study").waitFor();
    }
  });

  it("stops a run, keeps nothing of it, and runs again", async () => {
    const protocol = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
    protocol.conditions[0].choose = { criterion: "youden" };
    const draft = await file("protocol.json", JSON.stringify({ ...protocol, replicates: 100_000 }));
    await page
      .getByLabel("Files of the study")
      .setInputFiles([draft, "data/children/columns.json", "data/children/children.csv"]);
    await open("Write the question down");
    await press("Go on to the run");
    await press("Run the study");
    const stage = page.getByRole("dialog").getByRole("status");
    await stage.filter({ hasNotText: "beginning" }).waitFor();
    await press("Stop the run");
    await page
      .locator("#said", { hasText: "The run was stopped. Nothing of it was kept." })
      .waitFor();
    expect(await page.getByRole("button", { name: "6. Take the report" }).isDisabled()).toBe(true);
    await press("4. Write the question down");
    await page.getByLabel("Replicates").fill("40");
    await press("Go on to the run");
    await press("Run the study");
    await open("Take the report");
  });
});
