import { createCalibrationHandlers } from './calls/calibrationHandlers.ts';
import { createCareHandlers } from './calls/careHandlers.ts';
import { createChoiceHandlers } from './calls/choiceHandlers.ts';
import { createClassroomHandlers } from './calls/classroomHandlers.ts';
import { createFleetHandlers } from './calls/fleetHandlers.ts';
import { createHistoryHandlers } from './calls/historyHandlers.ts';
import { createIntakeHandlers } from './calls/intakeHandlers.ts';
import { createRecordingHandlers } from './calls/recordingHandlers.ts';
import { createRegisterHandlers } from './calls/registerHandlers.ts';
import { createReportHandlers } from './calls/reportHandlers.ts';
import { createRulingHandlers } from './calls/rulingHandlers.ts';
import { createVisitHandlers } from './calls/visitHandlers.ts';
import type { Handlers } from './handlers.ts';
import { createRecordingReader } from './recordingReader.ts';
import { openRegister } from './register/openRegister.ts';
import type { Store } from './store.ts';
import { toStoreError } from './storeErrors.ts';

/** Builds the handler of every call of the contract over one workspace. One file a topic, as in the contract. */
export function createWorkspaceService(store: Store, reader = createRecordingReader(store)): Handlers {
  const register = openRegister(store);
  const handlers: Handlers = {
    ...createRegisterHandlers(store, register),
    ...createVisitHandlers(store, reader),
    ...createHistoryHandlers(store),
    ...createRulingHandlers(store),
    ...createReportHandlers(store, reader, register),
    ...createRecordingHandlers(reader),
    ...createChoiceHandlers(store),
    ...createClassroomHandlers(store, reader),
    ...createIntakeHandlers(store),
    ...createCalibrationHandlers(store),
    ...createCareHandlers(store, reader),
    ...createFleetHandlers(store),
  };
  return withStoreErrors(handlers, store.path);
}

/** Has every handler throw a StoreError that names the workspace where SQLite fails. */
function withStoreErrors(handlers: Handlers, path: string): Handlers {
  const wrapped = Object.entries(handlers).map(([name, handle]) => [
    name,
    async (request: never) => {
      try {
        return await handle(request);
      } catch (error) {
        throw toStoreError(error, path);
      }
    },
  ]);
  return Object.fromEntries(wrapped);
}
