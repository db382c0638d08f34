/** Stands in for the pool of threads where a test replaces what the threads would import: runs each task at once, here. */
export class Piscina {
  readonly #filename: string;

  constructor({ filename }: { filename: string }) {
    this.#filename = filename;
  }

  async run(task: unknown, { name = 'default' }: { name?: string } = {}): Promise<unknown> {
    const module = await import(this.#filename);
    return module[name](task);
  }

  async close(): Promise<void> {}

  async destroy(): Promise<void> {}
}
