package catchbay.record;

import catchbay.quantity.Pressure;
import catchbay.quantity.Temperature;
import catchbay.run.BayCommand;
import catchbay.run.BayComputer;
import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PressureReading;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperatureReading;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.util.Arrays;
import java.util.TreeSet;

/**
 * Writes trace lines into a buffer that is used over and over. Every line is written here by hand,
 * since edges come by the million; the format is {@code src/docs/trace-format.md}. Not thread-safe.
 */
public final class TraceText {

    /** The version of the format. */
    public static final int FORMAT_VERSION = 1;

    /** The most edges written into one line; a larger batch becomes several lines. */
    public static final int LINE_EDGES_MAX = 4096;

    /**
     * The longest line that is read, bytes without its end; {@link #LINE_EDGES_MAX} edges of any
     * spacing fit.
     */
    public static final int LINE_BYTES_MAX = 128 * 1024;

    /** Digits of the smallest long, with its sign. */
    private static final int LONG_BYTES_MAX = 20;

    private static final byte[] HEX = ascii("0123456789abcdef");

    private byte[] bytes = new byte[8 * 1024];
    private int length;
    private int lineFrom;

    /**
     * The buffer; its first {@link #length()} bytes are the lines written since {@link #clear()}.
     */
    public byte[] bytes() {
        return bytes;
    }

    /** How many bytes are written. */
    public int length() {
        return length;
    }

    /** Forgets what was written. */
    public void clear() {
        length = 0;
    }

    /**
     * Writes the first line.
     *
     * @throws IllegalArgumentException when the setup cannot be written so that it reads back the
     *     same
     */
    public void header(TraceLine.Header header) {
        ObjectNode node =
                JsonNodeFactory.instance.objectNode().put("catchbay_trace", FORMAT_VERSION);
        header.method().ifPresent(method -> node.put("method", method));
        header.run().ifPresent(run -> node.put("run", run));
        node.put("origin", header.origin().key());
        header.boot().ifPresent(boot -> node.put("boot", boot));
        header.wall().ifPresent(wall -> node.put("wall", wall.toString()));
        header.program().ifPresent(program -> node.put("program", program));
        node.put("turns", Fields.spelt(header.turns()));
        node.set("setup", SetupText.write(header.setup()));
        byte[] text = Json.write(node);
        lineFrom = length;
        reserve(text.length);
        // All but the closing brace, with which every line ends.
        System.arraycopy(text, 0, bytes, length, text.length - 1);
        length += text.length - 1;
        end(this);
    }

    /** Writes something that the run learned. */
    public void input(RunInput input) {
        switch (input) {
            case RunInput.Edges edges -> edges(edges);
            case RunInput.Turn turn -> end(at(turn.atNanos()).put(",\"turn\":1"));
            case RunInput.Contact contact ->
                    end(
                            at(contact.atNanos())
                                    .key("contact")
                                    .words(contact.contact().key())
                                    .key("active")
                                    .flag(contact.active()));
            case RunInput.Scale scale -> scale(scale);
            case RunInput.ControllerTotal total ->
                    end(at(total.atNanos()).key("total_litres").number(total.total().litres()));
            case RunInput.Unread unread ->
                    end(
                            at(unread.atNanos())
                                    .key("unread")
                                    .words(unread.port())
                                    .key("frames")
                                    .whole(unread.frames())
                                    .key("bytes")
                                    .whole(unread.bytes())
                                    .key("reason")
                                    .words(unread.reason()));
            case RunInput.Thermometer thermometer -> thermometer(thermometer);
            case RunInput.CouplerPressure pressure -> coupler(pressure);
            case RunInput.PulsesSent sent ->
                    end(
                            at(sent.atNanos())
                                    .key("sent")
                                    .words(sent.line().key())
                                    .key("hertz")
                                    .number(sent.hertz())
                                    .key("rising")
                                    .flag(sent.rising()));
            case RunInput.DiskFree free ->
                    end(at(free.atNanos()).key("disk_free_bytes").whole(free.bytes()));
            case RunInput.SpeedConfirmed confirmed ->
                    end(at(confirmed.atNanos()).key("speed_checklist").words(confirmed.by()));
            case RunInput.ChecklistConfirmed confirmed ->
                    end(at(confirmed.atNanos()).key("checklist").words(confirmed.by()));
            case RunInput.Done done ->
                    end(at(done.atNanos()).key("done").words(done.question().key()));
            case RunInput.TotalTyped typed ->
                    end(at(typed.atNanos()).key("typed_litres").number(typed.total().litres()));
            case RunInput.SaltTyped typed ->
                    end(at(typed.atNanos()).key("typed_salt_kg").number(typed.salt().kilograms()));
            case RunInput.StopPressed stop -> end(at(stop.atNanos()).key("stop").words(stop.by()));
            case RunInput.PortFailed failed ->
                    end(
                            at(failed.atNanos())
                                    .key("port_failed")
                                    .words(failed.port())
                                    .key("reason")
                                    .words(failed.sentence()));
            case RunInput.TraceDurable durable ->
                    end(at(durable.atNanos()).key("durable_to").whole(durable.upToNanos()));
            case RunInput.TraceFailed failed ->
                    end(at(failed.atNanos()).key("trace_failed").words(failed.sentence()));
        }
    }

    /** Writes a train of edges as one line. */
    public void train(TraceLine.Train train) {
        at(train.firstNanos())
                .key("train")
                .words(train.line().key())
                .key("first_seq")
                .whole(train.firstSequence())
                .key("count")
                .whole(train.count());
        end(
                switch (train.spacing()) {
                    case TraceLine.Spacing.Period period -> key("period_ns").whole(period.nanos());
                    case TraceLine.Spacing.Rate rate -> key("hertz").number(rate.hertz());
                });
    }

    /** Writes what the bay's computer said of itself. */
    public void computer(long atNanos, BayComputer computer) {
        at(atNanos).key("computer").put("{");
        String comma = "";
        if (computer.powerFlags().isPresent()) {
            put("\"power_flags\":").whole(computer.powerFlags().getAsInt());
            comma = ",";
        }
        if (computer.clockDoubts().isPresent()) {
            put(comma).put("\"clock_doubts\":[");
            comma = "";
            for (BayComputer.ClockDoubt doubt : new TreeSet<>(computer.clockDoubts().get())) {
                put(comma).words(Fields.spelt(doubt));
                comma = ",";
            }
            put("]");
            comma = ",";
        }
        if (computer.freeBytes().isPresent()) {
            put(comma).put("\"free_bytes\":").whole(computer.freeBytes().getAsLong());
        }
        end(put("}"));
    }

    /** Writes that the run came into the state called so. */
    public void state(long atNanos, String key) {
        end(at(atNanos).key("state").words(key));
    }

    /** Writes that the run commanded this. */
    public void command(long atNanos, BayCommand command) {
        at(atNanos).key("command");
        end(
                switch (command) {
                    case BayCommand.Divert divert ->
                            words("divert").key("way").words(Fields.spelt(divert.way()));
                    case BayCommand.Drain drain -> words("drain").key("open").flag(drain.open());
                    case BayCommand.Supply supply -> words("supply").key("on").flag(supply.on());
                    case BayCommand.GroundSpeed speed ->
                            words("ground-speed").key("hertz").number(speed.hertz());
                    case BayCommand.Feeder feeder ->
                            words("feeder").key("hertz").number(feeder.hertz());
                    case BayCommand.Ask ask ->
                            words("ask").key("question").words(ask.question().key());
                    case BayCommand.SecureTrace _ -> words("secure-trace");
                });
    }

    /** Writes the last line. */
    public void closing(TraceLine.Closing closing) {
        end(
                at(closing.atNanos())
                        .key("end")
                        .words(closing.end())
                        .key("reason")
                        .words(closing.reason())
                        .key("lines")
                        .whole(closing.lines())
                        .key("sha256")
                        .words(closing.sha256()));
    }

    /** Writes any line. */
    public void line(TraceLine line) {
        switch (line) {
            case TraceLine.Header header -> header(header);
            case TraceLine.Input(RunInput input) -> input(input);
            case TraceLine.Train train -> train(train);
            case TraceLine.Computer(long at, BayComputer told) -> computer(at, told);
            case TraceLine.State(long at, String key) -> state(at, key);
            case TraceLine.Command(long at, BayCommand command) -> command(at, command);
            case TraceLine.Closing closing -> closing(closing);
        }
    }

    private void edges(RunInput.Edges edges) {
        EdgeBatch batch = edges.batch();
        for (int from = 0; from < batch.size(); from += LINE_EDGES_MAX) {
            int to = Math.min(batch.size(), from + LINE_EDGES_MAX);
            long stamp = batch.stampNanos(from);
            at(stamp)
                    .key("edges")
                    .words(edges.line().key())
                    .key("first_seq")
                    .whole(batch.firstSequence() + from)
                    .put(",\"gaps_ns\":[");
            reserve((to - from) * (LONG_BYTES_MAX + 1));
            for (int i = from + 1; i < to; i++) {
                long next = batch.stampNanos(i);
                if (i > from + 1) {
                    bytes[length++] = ',';
                }
                digits(next - stamp);
                stamp = next;
            }
            end(put("]"));
        }
    }

    private void scale(RunInput.Scale scale) {
        at(scale.atNanos()).key("scale");
        end(
                switch (scale.frame()) {
                    case ScaleFrame.Weight weight ->
                            words("weight")
                                    .key("amount")
                                    .number(weight.amount())
                                    .key("unit")
                                    .words(weight.unit().symbol())
                                    .key("net")
                                    .flag(weight.net())
                                    .key("motion")
                                    .flag(weight.inMotion());
                    case ScaleFrame.NoWeight none ->
                            words("no-weight").key("reason").words(none.reason());
                });
    }

    private void thermometer(RunInput.Thermometer thermometer) {
        at(thermometer.atNanos()).key("temperature").words(thermometer.place().key());
        end(
                switch (thermometer.reading()) {
                    case TemperatureReading.Shown(Temperature t) ->
                            key("celsius").number(t.celsius());
                    case TemperatureReading.Missing(String reason) ->
                            key("no_reading").words(reason);
                });
    }

    private void coupler(RunInput.CouplerPressure pressure) {
        at(pressure.atNanos());
        end(
                switch (pressure.reading()) {
                    case PressureReading.Shown(Pressure p) ->
                            key("coupler_kpa").number(p.kilopascals());
                    case PressureReading.Missing(String reason) ->
                            key("coupler_missing").words(reason);
                });
    }

    // Pieces of a line: {"at":N then ,"key": and a value, over and over, then }
    // -----------------------------------------------------------------------------------------------------------

    private TraceText at(long nanos) {
        lineFrom = length;
        return put("{\"at\":").whole(nanos);
    }

    private TraceText key(String key) {
        return put(",\"").put(key).put("\":");
    }

    /** A text too long for a line has passed its own door unbounded: that is a bug there. */
    private void end(TraceText line) {
        line.put("}\n");
        if (length - 1 - lineFrom > LINE_BYTES_MAX) {
            int bytesOfLine = length - 1 - lineFrom;
            length = lineFrom;
            throw new IllegalArgumentException(
                    "a trace line of "
                            + bytesOfLine
                            + " bytes is longer than the "
                            + LINE_BYTES_MAX
                            + " that can be read again; bound the text where it comes in");
        }
    }

    private TraceText whole(long number) {
        reserve(LONG_BYTES_MAX);
        digits(number);
        return this;
    }

    private TraceText number(double number) {
        return put(Double.toString(number));
    }

    private TraceText flag(boolean flag) {
        return put(flag ? "true" : "false");
    }

    private TraceText put(String ascii) {
        int count = ascii.length();
        reserve(count);
        for (int i = 0; i < count; i++) {
            bytes[length++] = (byte) ascii.charAt(i);
        }
        return this;
    }

    private TraceText words(String text) {
        // A character is at most three bytes (a pair of surrogates four), an escaped one six.
        int count = text.length();
        reserve(6 * count + 2);
        bytes[length++] = '"';
        for (int i = 0; i < count; i++) {
            char c = text.charAt(i);
            if (c < 0x80) {
                asciiOrEscape(c);
            } else if (c < 0x800) {
                bytes[length++] = (byte) (0xC0 | c >> 6);
                bytes[length++] = (byte) (0x80 | c & 0x3F);
            } else if (!Character.isSurrogate(c)) {
                bytes[length++] = (byte) (0xE0 | c >> 12);
                bytes[length++] = (byte) (0x80 | c >> 6 & 0x3F);
                bytes[length++] = (byte) (0x80 | c & 0x3F);
            } else if (i + 1 < count && Character.isSurrogatePair(c, text.charAt(i + 1))) {
                int point = Character.toCodePoint(c, text.charAt(++i));
                bytes[length++] = (byte) (0xF0 | point >> 18);
                bytes[length++] = (byte) (0x80 | point >> 12 & 0x3F);
                bytes[length++] = (byte) (0x80 | point >> 6 & 0x3F);
                bytes[length++] = (byte) (0x80 | point & 0x3F);
            } else {
                escape(c); // half a pair is no UTF-8, but may have been typed
            }
        }
        bytes[length++] = '"';
        return this;
    }

    private void asciiOrEscape(char c) {
        if (c == '"' || c == '\\') {
            bytes[length++] = '\\';
            bytes[length++] = (byte) c;
        } else if (c < 0x20 || c == 0x7F) {
            escape(c);
        } else {
            bytes[length++] = (byte) c;
        }
    }

    private void escape(char c) {
        bytes[length++] = '\\';
        bytes[length++] = 'u';
        for (int shift = 12; shift >= 0; shift -= 4) {
            bytes[length++] = HEX[c >> shift & 0xF];
        }
    }

    /** Writes a number; room for it has been reserved. */
    private void digits(long number) {
        if (number < 0) {
            if (number == Long.MIN_VALUE) {
                put(Long.toString(number)); // has no positive twin
                return;
            }
            bytes[length++] = '-';
            number = -number;
        }
        int end = length + digitCount(number);
        length = end;
        while (number >= 10) {
            long rest = number / 10;
            bytes[--end] = (byte) ('0' + (number - rest * 10));
            number = rest;
        }
        bytes[--end] = (byte) ('0' + number);
    }

    private static int digitCount(long number) {
        int count = 1;
        for (long limit = 10; count < 19 && number >= limit; limit *= 10) {
            count++;
        }
        return count;
    }

    private void reserve(int more) {
        if (bytes.length - length < more) {
            bytes = Arrays.copyOf(bytes, Math.max(bytes.length * 2, length + more));
        }
    }

    private static byte[] ascii(String text) {
        return text.getBytes(java.nio.charset.StandardCharsets.US_ASCII);
    }
}
