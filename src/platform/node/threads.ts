export {
  MessageChannel,
  MessagePort,
  parentPort,
  receiveMessageOnPort,
  Worker,
  workerData,
} from "node:worker_threads";
