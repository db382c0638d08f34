import './parts.css';
import { ActionIcon } from '@mantine/core';
import { IconChartLine, IconTable } from '@tabler/icons-react';
import { type ReactNode, useId, useState } from 'react';
import { DataTable, type DataTableContent } from './DataTable.tsx';

type PanelProps = {
  title: string;
  /** A word or two on what is shown, after the title. */
  remark?: ReactNode;
  controls?: ReactNode;
  /** What is shown answers earlier choices; the remark says so too. */
  isOvertaken?: boolean;
  /** The data of the plot inside; gives the panel a switch between plot and table. */
  table?: DataTableContent;
  children: ReactNode;
};

/** A titled area of the bench. What does not fit scrolls inside it. */
export function Panel({ title, remark, controls, table, isOvertaken = false, children }: PanelProps) {
  const [tabular, setTabular] = useState(false);
  const id = useId();
  const shown = tabular && table;
  const switchTo = shown ? `Show ${title.toLowerCase()} as plot` : `Show ${title.toLowerCase()} as table`;
  return (
    <section className="panel" aria-labelledby={id}>
      <header className="panel-head">
        <h2 id={id}>{title}</h2>
        {remark && (
          <span className="panel-remark" title={typeof remark === 'string' ? remark : undefined}>
            {remark}
          </span>
        )}
        <span className="spring" />
        {controls}
        {table && (
          <ActionIcon
            variant="subtle"
            color="gray"
            size={24}
            aria-label={switchTo}
            title={switchTo}
            onClick={() => setTabular(!tabular)}
          >
            {shown ? <IconChartLine size={16} /> : <IconTable size={16} />}
          </ActionIcon>
        )}
      </header>
      <div className={isOvertaken ? 'panel-body is-overtaken' : 'panel-body'} aria-busy={isOvertaken}>
        {shown ? <DataTable {...table} /> : children}
      </div>
    </section>
  );
}
