/** Of the name of a workspace file. */
export const WORKSPACE_ENDING = '.stemroot';
