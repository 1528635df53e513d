import names from 'virtual:samples';

/** Photos that come with Roundwise: name, address of the photo and of a small picture of it. */
export const SAMPLES = names.map((name) => ({
  name,
  url: `./samples/${name}.jpg`,
  thumbnailUrl: `./samples/${name}.webp`,
}));
