/*
 * Shelf: what the program keeps around workspaces, in its own settings folder. Which were opened lately, and what the person
 * prefers; and the workbench that changes from one workspace to another while the window stays.
 */
export { type ChooseWorkspace, openWorkbench, type Workbench } from './openWorkbench.ts';
