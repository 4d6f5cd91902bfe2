// Small parts that screens are put together from. They draw and collect; they
// know no book.
export { BigAction, Button, Card, Icon, NoBike } from "./parts";
export { Choice, Choices, type Option } from "./choice";
export { Fold } from "./fold";
export { Form, Save } from "./form";
export { Keypad, NumberField, Stepper } from "./number";
export { RefusalFor, RefusalList } from "./refusal";
export { Row, Rows } from "./rows";
export { Sheet } from "./sheet";
export { DayField, TextField } from "./text";
