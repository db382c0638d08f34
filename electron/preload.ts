import { contextBridge, ipcRenderer } from 'electron';

contextBridge.exposeInMainWorld('stemroot', {
  call: (name: string, request: unknown) => ipcRenderer.invoke('stemroot:call', name, request),
});
