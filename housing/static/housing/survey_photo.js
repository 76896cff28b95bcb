// A photo from the camera: made small on the device, so that it can be kept and sent over a weak connection.

const LONGEST_SIDE = 1600; // as the server keeps it
const QUALITY = 0.85;

// { blob, picture }: the photo to send, and a canvas to show; a file that cannot be drawn is sent as it is.
export async function smallPhoto(file) {
  try {
    const drawn = await createImageBitmap(file, { imageOrientation: "from-image" });
    const share = Math.min(1, LONGEST_SIDE / Math.max(drawn.width, drawn.height));
    const picture = document.createElement("canvas");
    picture.width = Math.max(1, Math.round(drawn.width * share));
    picture.height = Math.max(1, Math.round(drawn.height * share));
    picture.getContext("2d").drawImage(drawn, 0, 0, picture.width, picture.height);
    drawn.close();
    const blob = await new Promise((resolve) => picture.toBlob(resolve, "image/jpeg", QUALITY));
    return { blob: blob ?? file, picture };
  } catch {
    return { blob: file, picture: null };
  }
}
