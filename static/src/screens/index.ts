// Every screen of the app by its address. A screen is one module in this
// folder; add its line here. Earlier lines win.
import type { ComponentType } from "preact";
import { Bike, Setting } from "./bike";
import { CameIn } from "./camein";
import { Counted } from "./counted";
import { Days, Session } from "./days";
import { Due } from "./due";
import { Check, Fall } from "./fall";
import { FirstLook } from "./firstlook";
import { History } from "./history";
import { Keep } from "./keep";
import { LapsIn } from "./lapsin";
import { Line } from "./line";
import { People } from "./people";
import { Measure, Measuring } from "./measure";
import { Phone } from "./phone";
import { ReadSheet } from "./readsheet";
import { PaddockCard, Said } from "./said";
import { Share } from "./share";
import { Sheet } from "./sheet";
import { Today } from "./today";
import { Track, Tracks } from "./tracks";
import { Feel } from "./feel";
import { Trial } from "./trial";
import { Try } from "./try";
import { Turned } from "./turned";
import { WayBack } from "./wayback";
import { Handbook, HandbookCause } from "./handbook";
import { Joined } from "./welcome";
import { Why } from "./why";
import { Worked } from "./worked";
import { WhatVerdictsTaught } from "./whylearned";
import { Repeat } from "./whyrepeat";
import { Symptoms } from "./whysymptoms";
import { TyreReading } from "./whytyre";

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
  /** Which of the places it belongs to. */
  place?: "today" | "bike" | "why" | "measure" | "book";
  view: ComponentType<ScreenProps>;
  /** Can be seen before there is any book. */
  withoutBook?: boolean;
}

export const screens: Screen[] = [
  { path: "/", title: "Today", place: "today", view: Today },
  { path: "/came-in", title: "Came in", place: "today", view: CameIn },
  { path: "/turned", title: "Turned something", place: "today", view: Turned },
  { path: "/feel", title: "Your feel, their advice", place: "book", view: Feel },
  { path: "/worked", title: "What worked here", place: "book", view: Worked },
  { path: "/try", title: "Try something", place: "today", view: Try },
  { path: "/trial/:id", title: "A trial", place: "today", view: Trial },
  { path: "/counted", title: "Counted it", place: "today", view: Counted },
  { path: "/said", title: "Somebody said", place: "today", view: Said },
  { path: "/card", title: "Paddock card", place: "today", view: PaddockCard },
  { path: "/wayback", title: "Way back", place: "today", view: WayBack },
  { path: "/first-look", title: "First look", place: "bike", view: FirstLook },
  { path: "/bike", title: "Bike", place: "bike", view: Bike },
  { path: "/bike/setting/:id", title: "A setting", place: "bike", view: Setting },
  { path: "/fall", title: "A fall", place: "bike", view: Fall },
  { path: "/checks", title: "A check", place: "bike", view: Check },
  { path: "/why", title: "Why", place: "why", view: Why },
  { path: "/why/tyre", title: "Read the tyre", place: "why", view: TyreReading },
  { path: "/why/repeat", title: "Repeat it on purpose", place: "why", view: Repeat },
  { path: "/why/symptoms", title: "What it did before", place: "why", view: Symptoms },
  { path: "/why/learned", title: "What verdicts taught", place: "why", view: WhatVerdictsTaught },
  { path: "/handbook", title: "Handbook", place: "why", view: Handbook },
  { path: "/handbook/:id", title: "Handbook", place: "why", view: HandbookCause },
  { path: "/measure", title: "Measure", place: "measure", view: Measure },
  { path: "/measure/:topic", title: "Measure", place: "measure", view: Measuring },
  { path: "/book", title: "Book", place: "book", view: History },
  { path: "/days", title: "Days and sessions", place: "book", view: Days },
  { path: "/session/:id", title: "A session", place: "book", view: Session },
  { path: "/laps/:session", title: "Laps in", place: "book", view: LapsIn },
  { path: "/tracks", title: "Tracks", place: "book", view: Tracks },
  { path: "/tracks/:id", title: "A track", place: "book", view: Track },
  { path: "/due", title: "What is due", place: "bike", view: Due },
  { path: "/keep", title: "Keep and share", place: "book", view: Keep, withoutBook: true },
  { path: "/line/:id", title: "A line of the book", place: "book", view: Line },
  { path: "/people", title: "People and phones", place: "book", view: People },
  { path: "/joined", title: "You have joined", place: "book", view: Joined },
  { path: "/sheet", title: "Setup sheet", place: "book", view: Sheet },
  { path: "/share", title: "Share", place: "book", view: Share },
  { path: "/r", title: "Read a sheet", place: "book", view: ReadSheet, withoutBook: true },
  { path: "/phone", title: "This phone", view: Phone, withoutBook: true },
];
