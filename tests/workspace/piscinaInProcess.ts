import { EventEmitter } from 'node:events';

/** Stands in for the pool of threads where a test replaces what the threads would import: runs each task at once, here. */
export class Piscina extends EventEmitter {
  readonly #filename: string;
  readonly #name: string;

  constructor({ filename, name = '' }: { filename: string; name?: string }) {
    super();
    this.#filename = filename;
    this.#name = name;
  }

  async run(task: unknown, { name = this.#name }: { name?: string } = {}): Promise<unknown> {
    const module = await import(this.#filename);
    return module[name](task);
  }

  async close(): Promise<void> {}

  async destroy(): Promise<void> {}
}
