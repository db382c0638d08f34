/** The part of pino-roll that is used here; the package brings no types. */
declare module 'pino-roll' {
  import type { DestinationStream } from 'pino';

  export default function openRolling(options: {
    file: string;
    extension: string;
    size: string;
    limit: { count: number; removeOtherLogFiles: boolean };
    maxLength: number;
    mkdir: boolean;
    mode: number;
    sync: boolean;
  }): Promise<
    DestinationStream & { end(): void; on(event: 'error', listener: (error: Error) => void): void }
  >;
}
