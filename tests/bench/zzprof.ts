import { build, preview } from "vite";
import { launchBrowser } from "../support/browser.ts";
export async function main(args:string[]) {
  const handle = args[0] ?? "pin.right.upperInner";
  const dist = "/tmp/distprof";
  await build({ logLevel: "error", build: { outDir: dist, emptyOutDir: true, minify: false } });
  const server = await preview({ logLevel: "error", build: { outDir: dist }, preview: { port: 0, host: "127.0.0.1" } });
  const { browser } = await launchBrowser({ webgl: false });
  const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 } })).newPage();
  await page.goto(server.resolvedUrls!.local[0]!);
  await page.waitForSelector("html[data-ready]", { state: "attached" });
  await page.waitForTimeout(1000);
  const box = (await page.locator(`[data-handle="${handle}"]`).boundingBox())!;
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.keyboard.down("Alt"); await page.mouse.move(x, y); await page.mouse.down();
  const [dx,dy] = handle==="cornering"?[24,0]:[20,16];
  for (let i = 0; i < 40; i++) await page.mouse.move(x + dx * Math.sin(i / 9), y + dy * Math.sin(i / 13));
  const cdp = await page.context().newCDPSession(page);
  await cdp.send("Profiler.enable"); await cdp.send("Profiler.setSamplingInterval", { interval: 100 }); await cdp.send("Profiler.start");
  await page.evaluate(() => performance.clearMeasures("wheelstay-frame"));
  for (let i = 0; i < 200; i++) { await page.mouse.move(x + dx * Math.sin(i / 9), y + dy * Math.sin(i / 13)); await page.waitForTimeout(12); }
  const { profile } = await cdp.send("Profiler.stop") as any;
  const taken: number[] = await page.evaluate(() => performance.getEntriesByName("wheelstay-frame").map((e) => e.duration));
  taken.sort((a,b)=>a-b); const nF=taken.length;
  console.log("frames", nF, "median", taken[nF>>1], "p99", taken[Math.floor(nF*0.99)], "sum", taken.reduce((a,b)=>a+b,0));
  const nodes = new Map<number, any>(); for (const n of profile.nodes) nodes.set(n.id, n);
  const self = new Map<number, number>(); profile.samples.forEach((id:number,i:number)=>self.set(id,(self.get(id)??0)+profile.timeDeltas[i]/1000));
  const parent = new Map<number, number>(); for (const n of profile.nodes) for (const c of n.children??[]) parent.set(c,n.id);
  const name=(n:any)=>n.callFrame.functionName+":"+n.callFrame.lineNumber;
  const selfBy=new Map<string,number>(), incl=new Map<string,number>();
  for (const [id,t] of self) { const n=nodes.get(id); selfBy.set(name(n),(selfBy.get(name(n))??0)+t); const seen=new Set<string>(); let cur:number|undefined=id; while(cur!==undefined){ const k=name(nodes.get(cur)); if(!seen.has(k)){seen.add(k); incl.set(k,(incl.get(k)??0)+t);} cur=parent.get(cur);} }
  const show=(m:Map<string,number>,k:number)=>[...m].sort((a,b)=>b[1]-a[1]).slice(0,k).map(([n,t])=>`${(t/nF).toFixed(3)} ${n}`).join("\n");
  console.log("SELF ms/frame\n"+show(selfBy,Number(args[1]??45))); console.log("INCL ms/frame\n"+show(incl,Number(args[2]??110)));
  await browser.close(); await server.close();
}
