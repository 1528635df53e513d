import type { Cv, Net } from '../opencv/cv.ts';
import { cvError } from '../opencv/cv-error.ts';

const FILE_NAME = 'outline-model.onnx';

/** The network, ready to run. Dispose of it when the worker ends; it holds a few megabytes. */
export interface OutlineModel extends Disposable {
  readonly cv: Cv;
  readonly net: Net;
}

/**
 * Reads the weights (`outline-model.onnx` beside this file) into OpenCV.
 * @throws Error with OpenCV's message when the bytes are no such network.
 */
export function loadOutlineModel(cv: Cv, bytes: Uint8Array): OutlineModel {
  cv.FS_createDataFile('/', FILE_NAME, bytes, true, true, true);
  try {
    const net = cv.readNetFromONNX(`/${FILE_NAME}`);
    return { cv, net, [Symbol.dispose]: () => net.delete() };
  } catch (thrown) {
    throw cvError(cv, thrown);
  } finally {
    cv.FS_unlink(`/${FILE_NAME}`);
  }
}
