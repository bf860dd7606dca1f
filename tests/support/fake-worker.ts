import { MessageChannel } from "node:worker_threads";
import * as Comlink from "comlink";

const closing: (() => void)[] = [];

export type FakeWorker = Worker & { fire(type: string): void };

/** A worker by a channel within this process; its events are fired by hand. @param api what it does; null: nobody sits at the other end */
export function workerOf(api: object | null): FakeWorker {
  const { port1, port2 } = new MessageChannel();
  if (api) Comlink.expose(api, port2 as unknown as Comlink.Endpoint);
  const near = port1 as unknown as MessagePort;
  const events = new EventTarget();
  closing.push(() => port1.close());
  const own = (type: string): boolean => type === "error" || type === "messageerror";
  return {
    postMessage: near.postMessage.bind(near),
    addEventListener: (type: string, fn: EventListener) => (own(type) ? events.addEventListener(type, fn) : near.addEventListener(type, fn)),
    removeEventListener: (type: string, fn: EventListener) => (own(type) ? events.removeEventListener(type, fn) : near.removeEventListener(type, fn)),
    start: () => near.start(),
    terminate: () => port1.close(),
    fire: (type: string) => events.dispatchEvent(new Event(type)),
  } as unknown as FakeWorker;
}

/** Ends all of them. */
export function closeWorkers(): void {
  for (const close of closing.splice(0)) close();
}
