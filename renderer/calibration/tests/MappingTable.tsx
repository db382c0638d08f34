import { ScrollRegion } from '../../parts/index.ts';
import type { CallResponse } from '../../types.ts';

type Reading = CallResponse<'calibration.readTests'>;
type Mapping = Reading['mapping'];

const ROWS_SHOWN = 2;

/** What each column of a table holds, and in which unit: as proposed, to be changed and confirmed. */
export function MappingTable({
  reading,
  onChange,
}: {
  reading: Reading;
  onChange: (mapping: Mapping) => void;
}) {
  const { mapping, fields, firstRows } = reading;
  const change = (index: number, part: Partial<Mapping['columns'][number]>) =>
    onChange({
      ...mapping,
      columns: mapping.columns.map((column, i) =>
        i === index ? { ...column, ...part, isCertain: true } : column,
      ),
    });
  return (
    <>
      <label className="select-line decimal-mark">
        <span>Decimal mark</span>
        <select
          value={mapping.decimalMark}
          onChange={(event) => onChange({ ...mapping, decimalMark: event.currentTarget.value as '.' | ',' })}
        >
          <option value=".">point</option>
          <option value=",">comma</option>
        </select>
      </label>
      <ScrollRegion className="mapping plain-table" label="Columns of the table">
        <table>
          <thead>
            <tr>
              <th scope="col">Column</th>
              <th scope="col">First rows</th>
              <th scope="col">Holds</th>
              <th scope="col">Unit</th>
            </tr>
          </thead>
          <tbody>
            {mapping.columns.map(({ header, field, unit, isCertain }, index) => {
              const units = fields.find((known) => known.field === field)?.units ?? [];
              return (
                // biome-ignore lint/suspicious/noArrayIndexKey: columns stand in order, and two may have one header.
                <tr key={index}>
                  <th scope="row">{header}</th>
                  <td className="quiet">
                    {firstRows
                      .slice(0, ROWS_SHOWN)
                      .map((row) => row[index])
                      .join('; ')}
                  </td>
                  <td>
                    <select
                      aria-label={`Column ${header} holds`}
                      value={field ?? ''}
                      onChange={(event) => {
                        const next = fields.find((known) => known.field === event.currentTarget.value);
                        change(index, {
                          field: (next?.field ?? null) as Mapping['columns'][number]['field'],
                          unit: next?.units.length === 1 ? next.units[0]! : null,
                        });
                      }}
                    >
                      <option value="">passed over</option>
                      {fields.map((known) => (
                        <option key={known.field} value={known.field}>
                          {known.label}
                        </option>
                      ))}
                    </select>
                    {field !== null && !isCertain && (
                      <span className="guessed"> guessed from part of the name</span>
                    )}
                  </td>
                  <td>
                    {units.length > 0 && (
                      <select
                        aria-label={`Unit of column ${header}`}
                        value={unit ?? ''}
                        onChange={(event) => change(index, { unit: event.currentTarget.value || null })}
                      >
                        <option value="">choose</option>
                        {units.map((name) => (
                          <option key={name}>{name}</option>
                        ))}
                      </select>
                    )}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </ScrollRegion>
    </>
  );
}
