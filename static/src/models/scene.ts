/** A drawing to scale: shapes in millimetres, x to the right, y down. */
export interface Scene {
  says: string;
  box: [number, number, number, number];
  shapes: Shape[];
}

export interface Shape {
  kind: "line" | "area" | "circle" | "dim" | "words";
  role: string;
  at: [number, number][];
  r?: number;
  words?: string;
}
