import { constants } from 'node:fs';
import { open } from 'node:fs/promises';

/** The file, or a sentence that says why not. A pipe or device, which might never end, is not read. */
export async function readRegularFile(path: string): Promise<Buffer | string> {
  try {
    // Without O_NONBLOCK opening a pipe waits for somebody to write into it.
    const file = await open(path, constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      if (!(await file.stat()).isFile())
        return 'This is no file but a folder, a pipe or a device: give the path of a file.';
      return await file.readFile();
    } finally {
      await file.close();
    }
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    return code === 'ENOENT' ? 'There is no such file: check its path.' : `This file cannot be opened (${code}).`;
  }
}
