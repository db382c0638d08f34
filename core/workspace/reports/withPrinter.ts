import { StemrootError } from '../../errors.ts';
import type { CallResponse } from '../contract.ts';
import type { AnswerCall } from '../desk.ts';
import { refuse } from '../refusal.ts';

/** Turns an HTML report into a PDF, by the shell or by an installed browser. */
export type PrintPdf = (html: Uint8Array) => Promise<Uint8Array>;

/** Has a door's answers print: reports asked for as PDF are written as HTML, as ever, and then printed. */
export function withPrinter(answer: AnswerCall, printPdf: PrintPdf): AnswerCall {
  return async (name, request, opening) => {
    if (name !== 'reports.make' || !asksForPdf(request)) return answer(name, request, opening);
    const written = await answer(name, { ...request, format: 'html' }, opening);
    if (!written.ok) return written;
    const report = written.value as CallResponse<'reports.make'>;
    try {
      const pdf = await printPdf(Buffer.from(report.base64, 'base64'));
      const fileName = report.fileName.replace(/\.html$/, '.pdf');
      const base64 = Buffer.from(pdf).toString('base64');
      return { ok: true, value: { ...report, fileName, mediaType: 'application/pdf', base64 } as never };
    } catch (error) {
      if (error instanceof StemrootError) return refuse(error.code, error.message, error.hint);
      throw error;
    }
  };
}

function asksForPdf(request: unknown): request is object {
  return (request as { format?: unknown } | null)?.format === 'pdf';
}
