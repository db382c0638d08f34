import { ActionIcon, Button } from '@mantine/core';
import { IconTrash } from '@tabler/icons-react';
import { addRow, type RowList, removeRow } from './changeAnswers.ts';
import { useForm } from './FormContext.ts';
import { FormField } from './FormField.tsx';

type RowGroupProps = {
  list: RowList;
  legend: string;
  /** Words on the button that adds a row. */
  adding: string;
  fields: readonly { key: string; label: string; needed?: boolean; symbol?: string }[];
};

/** A list of the form, to which rows are added and from which they are taken. */
export function RowGroup({ list, legend, adding, fields }: RowGroupProps) {
  const { answers, rows, checked, tried, change } = useForm();
  const wrong = checked?.problems.find(({ field }) => field === list);
  return (
    <fieldset className="form-group">
      <legend>{legend}</legend>
      {answers[list].map((_, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name than their place.
        <div className="form-row" key={i}>
          <div className="form-grid">
            {fields.map(({ key, label, ...rest }) => (
              <FormField key={key} path={`${list}.${i}.${key}`} label={label} {...rest} />
            ))}
          </div>
          <ActionIcon
            variant="default"
            size={24}
            aria-label={`Take row ${i + 1} of ${legend.toLowerCase()} out`}
            onClick={() => change((all) => removeRow(all, list, i))}
          >
            <IconTrash size={14} />
          </ActionIcon>
        </div>
      ))}
      {wrong && tried && <p className="form-problem is-wrong">{wrong.words}</p>}
      <Button size="compact-sm" variant="default" onClick={() => change((all) => addRow(all, list, rows))}>
        {adding}
      </Button>
    </fieldset>
  );
}
