import type { Tally } from '../classroomTypes.ts';
import { nameFault } from '../nameFault.ts';

/** Counts of each fault against one key: who names a fault that is there, overlooks it, or sees one that is not. */
export function TallyTable({ caption, tallies }: { caption: string; tallies: readonly Tally[] }) {
  const told = tallies.filter(({ hits, misses, falseAlarms }) => hits + misses + falseAlarms > 0);
  const sum = (count: (tally: Tally) => number) => tallies.reduce((total, tally) => total + count(tally), 0);
  return (
    <table className="tally-table">
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">Fault</th>
          <th scope="col">There</th>
          <th scope="col">Hits</th>
          <th scope="col">Misses</th>
          <th scope="col">False alarms</th>
        </tr>
      </thead>
      <tbody>
        {told.map(({ fault, hits, misses, falseAlarms }) => (
          <tr key={fault}>
            <th scope="row">{nameFault(fault)}</th>
            <td>{hits + misses}</td>
            <td>{hits}</td>
            <td>{misses}</td>
            <td>{falseAlarms}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row">All faults</th>
          <td>{sum(({ hits, misses }) => hits + misses)}</td>
          <td>{sum(({ hits }) => hits)}</td>
          <td>{sum(({ misses }) => misses)}</td>
          <td>{sum(({ falseAlarms }) => falseAlarms)}</td>
        </tr>
      </tfoot>
    </table>
  );
}
