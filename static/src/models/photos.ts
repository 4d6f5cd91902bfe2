// View model "photos" and the form of action "photo", as
// internal/screen/photos.go makes them.
import type { Choice } from "./choices";

export interface PhotosPage {
  bike: string;
  whats: Choice[];
  /** What the next one will show, as far as the core can tell. */
  what?: string;
  photos: PhotoLine[];
  /** One can be added here. */
  more: boolean;
}

/** View model "photonames": the photos that the phone is to have, and those that it is to delete. */
export interface PhotoNames {
  named: string[];
  struck: string[];
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
