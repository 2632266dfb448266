/** The largest photo that is taken, as the image room has it; known here so that the browser need not send more. */
export const PHOTO_LIMIT_BYTES = 20 * 1024 * 1024;

export const PHOTO_LIMIT_TEXT = '20 MB';

/** What a file chooser offers; the server looks at the content, not at the name. */
export const PHOTO_TYPES = 'image/jpeg,image/png,image/webp,image/avif';
