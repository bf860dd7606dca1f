import type { Reporter, TestModule } from "vitest/node";

/** Prints one plain closing line after the test run: 'N passed, N failed, N skipped', and before it what passed at its second try only. */
export default class Summary implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const n = { passed: 0, failed: 0, skipped: 0 };
    const twice: string[] = [];
    for (const m of modules) {
      let any = false;
      for (const t of m.children.allTests()) {
        any = true;
        const s = t.result().state;
        if (t.diagnostic()?.flaky) twice.push(`${m.relativeModuleId}: ${t.fullName}`);
        if (s === "passed") n.passed++;
        else if (s === "failed") n.failed++;
        else n.skipped++;
      }
      // a file that could not even be loaded counts as one failure
      if (!any && m.state() === "failed") n.failed++;
    }
    process.on("exit", () =>
      console.log(`${twice.map((name) => `passed at its second try: ${name}\n`).join("")}${n.passed} passed, ${n.failed} failed, ${n.skipped} skipped`),
    );
  }
}
