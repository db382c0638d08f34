import { contextBridge, ipcRenderer } from 'electron';

contextBridge.exposeInMainWorld('stemroot', {
  call: (name: string, request: unknown, opening: string) =>
    ipcRenderer.invoke('stemroot:call', name, request, opening),
  // the id alone goes on to the page: an event would hand it the sender
  onCommand: (listener: (id: string) => void) => {
    const hear = (_event: unknown, id: string) => listener(id);
    ipcRenderer.on('stemroot:command', hear);
    return () => ipcRenderer.removeListener('stemroot:command', hear);
  },
});
