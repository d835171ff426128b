// A photo is made smaller here: it goes over a weak network, and never holds up what waits behind it.
const LONGEST_SIDE = 2400;
export async function madeSmaller(photo) {
  try {
    const picture = await createImageBitmap(photo);
    const scale = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height));
    const sheet = document.createElement("canvas");
    sheet.width = Math.max(1, Math.round(picture.width * scale));
    sheet.height = Math.max(1, Math.round(picture.height * scale));
    sheet.getContext("2d").drawImage(picture, 0, 0, sheet.width, sheet.height);
    picture.close();
    const blob = await new Promise((resolve) => sheet.toBlob(resolve, "image/jpeg", 0.85));
    return blob && new File([blob], "photo.jpg", { type: "image/jpeg" });
  } catch {
    return null;
  }
}
