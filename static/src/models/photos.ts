// View model "photos" and the form of action "photo", as
// internal/screen/photos.go makes them.
import type { Choice } from "./choices";

export interface PhotosPage {
  bike: string;
  whats: Choice[];
  photos: PhotoLine[];
}

export interface PhotoLine {
  entry: string;
  /** The photo's name: the SHA-256 of its bytes, in hex. */
  photo: string;
  what: string;
  says: string;
  note?: string;
  alt: string;
}

export interface PhotoForm {
  bike: string;
  photo: string;
  what: string;
  about: string;
  note: string;
}
