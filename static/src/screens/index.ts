// Every screen of the app by its address. A screen is one module in this
// folder; add its line here. Earlier lines win.
import type { ComponentType } from "preact";
import { Phone } from "./phone";

/** What a screen is given: the address's :names, and its query. */
export interface ScreenProps {
  params: Record<string, string>;
  query: URLSearchParams;
}

export interface Screen {
  /** Address pattern: "/", "/bike", "/bike/setting/:id". */
  path: string;
  /** The heading, and the page's name. */
  title: string;
  /** Which of the five places it belongs to. */
  place?: "today" | "bike" | "why" | "measure" | "book";
  view: ComponentType<ScreenProps>;
  /** Can be seen before there is any book. */
  withoutBook?: boolean;
}

export const screens: Screen[] = [
  { path: "/phone", title: "This phone", view: Phone, withoutBook: true },
];
