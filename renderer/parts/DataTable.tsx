import { ScrollRegion } from './ScrollRegion.tsx';

export type DataTableContent = {
  caption: string;
  columns: readonly string[];
  rows: readonly (readonly string[])[];
};

/** The main data of a plot as a plain table, for screen readers and for whoever wants the figures. */
export function DataTable({ caption, columns, rows }: DataTableContent) {
  return (
    <ScrollRegion className="data-table" label={caption}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column} scope="col">
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.join('|')}>
              {row.map((cell, i) =>
                i === 0 ? (
                  <th key={columns[i]} scope="row">
                    {cell}
                  </th>
                ) : (
                  <td key={columns[i]}>{cell}</td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
