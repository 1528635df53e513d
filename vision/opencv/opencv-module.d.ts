declare module '@opencvjs/web/lib/opencv_js.js' {
  export default function createModule(options?: object): Promise<object>;
}
