package catchbay.app;

import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * As much of a terminal as a screen's writing uses, after ECMA-48 and the VT100 (from memory): what
 * it is sent that it does not know fails. Safe for two threads.
 */
final class VideoTerminal extends OutputStream {

    private static final Pattern SEQUENCE =
            Pattern.compile("\u001b(?:\\[(\\??)(\\d*)([A-Z a-z])|(.))");
    private static final int ROWS = 16;

    private final List<StringBuilder> rows = new ArrayList<>();
    private final StringBuilder sent = new StringBuilder();
    private int columns;
    private int row;
    private int column;
    private int rememberedRow;
    private int rememberedColumn;
    private boolean wraps = true;

    VideoTerminal(int columns) {
        this.columns = columns;
        while (rows.size() < ROWS) {
            rows.add(new StringBuilder());
        }
    }

    int columns() {
        return columns;
    }

    @Override
    public synchronized void write(int one) {
        write(new byte[] {(byte) one}, 0, 1);
    }

    @Override
    public synchronized void write(byte[] some, int from, int length) {
        String text = new String(some, from, length, StandardCharsets.UTF_8);
        sent.append(text);
        Matcher sequence = SEQUENCE.matcher(text);
        for (int i = 0; i < text.length(); i++) {
            if (text.charAt(i) == '\u001b') {
                if (!sequence.find(i) || sequence.start() != i) {
                    throw new AssertionError("a sequence is cut off");
                }
                obey(sequence);
                i = sequence.end() - 1;
            } else {
                put(text.charAt(i));
            }
        }
    }

    private void obey(Matcher sequence) {
        String number = sequence.group(2);
        switch (sequence.group(4) == null ? sequence.group(3) : sequence.group(4)) {
            case "A" -> row = Math.max(0, row - Integer.parseInt(number));
            case "D" -> down();
            case "J" -> {
                StringBuilder here = rows.get(row);
                here.setLength(Math.min(here.length(), column));
                rows.subList(row + 1, ROWS).forEach(below -> below.setLength(0));
            }
            case "l" -> wraps = false;
            case "h" -> wraps = true;
            case "7" -> {
                rememberedRow = row;
                rememberedColumn = column;
            }
            case "8" -> {
                row = rememberedRow;
                column = rememberedColumn;
            }
            default ->
                    throw new AssertionError("unknown sequence " + sequence.group().substring(1));
        }
    }

    private void put(char c) {
        switch (c) {
            case '\r' -> column = 0;
            case '\n' -> {
                // As a terminal's line does it, a line feed begins at the left.
                column = 0;
                down();
            }
            default -> {
                if (column == columns && wraps) {
                    column = 0;
                    down();
                }
                column = Math.min(column, columns - 1);
                StringBuilder here = rows.get(row);
                while (here.length() <= column) {
                    here.append(' ');
                }
                here.setCharAt(column++, c);
            }
        }
    }

    private void down() {
        if (row < ROWS - 1) {
            row++;
            return;
        }
        rows.removeFirst();
        rows.add(new StringBuilder());
    }

    /** A person types, and the terminal's line shows it. */
    synchronized void type(String text) {
        text.chars().forEach(c -> put((char) c));
    }

    /** The window is made narrower, and what no longer fits is broken anew, as most do it today. */
    synchronized void narrow(int fewer) {
        for (int i = 0; i < rows.size(); i++) {
            StringBuilder wide = rows.get(i);
            if (wide.length() > fewer) {
                rows.add(i + 1, new StringBuilder(wide.substring(fewer)));
                wide.setLength(fewer);
                row += i < row ? 1 : 0;
            }
        }
        while (rows.size() > ROWS) {
            rows.removeLast();
        }
        columns = fewer;
    }

    /** All rows down to the last that is not blank. */
    synchronized List<String> shown() {
        List<String> shown = new ArrayList<>();
        rows.forEach(text -> shown.add(text.toString().stripTrailing()));
        while (!shown.isEmpty() && shown.getLast().isEmpty()) {
            shown.removeLast();
        }
        return shown;
    }

    /** All that it was ever sent. */
    synchronized String sent() {
        return sent.toString();
    }
}
