package catchbay.sim.device;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.locks.LockSupport;

/**
 * The line of one stand-in device: its pseudo-terminal, the thread that speaks on it, its plug and
 * its faults. Its methods may be called by any thread.
 */
final class StandInLine implements AutoCloseable {

    /** How a device speaks. */
    interface Voice {
        /**
         * Takes one byte from the program; answers what is to be sent for it, empty for nothing.
         */
        byte[] heard(byte next);

        /** What is sent unasked once in every period. */
        byte[] unasked();
    }

    /** How long the thread waits at a time, so that a command to it is done soon. */
    private static final int WAIT_MILLIS_MAX = 20;

    /** A pause after which a reader has surely taken the byte before. */
    private static final long FRAGMENT_PAUSE_NANOS = 1_000_000;

    /** Longer than a reader's pace: it has taken the first piece when the second comes. */
    private static final long SPLIT_PAUSE_NANOS = 10_000_000;

    private static final int FLIPPED_PERCENT = 2;

    private final Voice voice;
    private final long periodNanos;
    private final Optional<Path> link;
    private final SplittableRandom random;
    private final Thread thread;
    private final byte[] buffer = new byte[256];
    private PseudoTerminal terminal;
    private Path path;
    private int cut;
    private LineFault fault = LineFault.NONE;
    private boolean wantedPlugged = true;
    private boolean wantedRunning = true;
    private IOException broken;

    /**
     * Plugs the line in and lets the device speak.
     *
     * @param voice how it speaks; used on the line's own thread alone
     * @param periodNanos the period of what it sends unasked, ns, > 0; {@link Long#MAX_VALUE} = it
     *     sends nothing unasked
     * @param link where a symbolic link to the pseudo-terminal stands while it is plugged in
     * @param seed what the faults draw from
     */
    StandInLine(Voice voice, long periodNanos, Optional<Path> link, long seed) throws IOException {
        this.voice = voice;
        this.periodNanos = periodNanos;
        this.link = link.map(place -> place.toAbsolutePath().normalize());
        this.random = new SplittableRandom(seed);
        plug();
        thread = new Thread(this::speak, "stand-in device");
        thread.setDaemon(true);
        thread.start();
    }

    /** What a program opens: the link where there is one, else the pseudo-terminal itself. */
    synchronized Path path() {
        return path;
    }

    synchronized void fault(LineFault next) {
        fault = next;
    }

    /**
     * Pulls the plug: the program's device goes away, and so does the link. Returns when it is
     * done.
     */
    void unplug() throws IOException {
        want(false, true);
    }

    /** Plugs in again, as a new pseudo-terminal; the link points to it. Returns when it is done. */
    void replug() throws IOException {
        want(true, true);
    }

    @Override
    public void close() {
        try {
            want(false, false);
            thread.join();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private synchronized void want(boolean plugged, boolean running) throws IOException {
        wantedPlugged = plugged;
        wantedRunning = running;
        try {
            while (broken == null && (terminal != null) != plugged) {
                wait();
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
        if (broken != null) {
            throw broken;
        }
    }

    private void speak() {
        long dueNanos = System.nanoTime();
        try {
            while (settlePlug()) {
                if (terminal == null) {
                    LockSupport.parkNanos(WAIT_MILLIS_MAX * 1_000_000L);
                    continue;
                }
                long now = System.nanoTime();
                if (periodNanos != Long.MAX_VALUE && now - dueNanos >= 0) {
                    dueNanos = Math.max(dueNanos + periodNanos, now);
                    say(voice.unasked());
                }
                listen(dueNanos - now);
            }
        } catch (IOException | RuntimeException failure) {
            synchronized (this) {
                broken =
                        new IOException(
                                "the stand-in device has failed: " + failure.getMessage(), failure);
                notifyAll();
            }
        }
    }

    private void listen(long untilDueNanos) throws IOException {
        long waitMillis =
                periodNanos == Long.MAX_VALUE ? WAIT_MILLIS_MAX : untilDueNanos / 1_000_000 + 1;
        int count = terminal.read(buffer, Math.clamp(waitMillis, 0, WAIT_MILLIS_MAX));
        if (count < 0) {
            // Nobody has the line open, which the kernel says at once: keep the pace.
            LockSupport.parkNanos(1_000_000);
        }
        for (int i = 0; i < count; i++) {
            say(voice.heard(buffer[i]));
        }
    }

    private void say(byte[] frame) throws IOException {
        // What is sent while nobody listens is lost on a real line; here the kernel would keep it.
        if (frame.length == 0 || !terminal.isListenedTo()) {
            return;
        }
        LineFault now;
        synchronized (this) {
            now = fault;
        }
        switch (now) {
            case SILENT -> {}
            case NONE, MOTION -> terminal.write(frame);
            case GARBLE -> terminal.write(garbled(frame));
            case MERGE -> terminal.write(joined(joined(frame, frame), frame));
            case NOISE -> terminal.write(joined(noise(), frame));
            case FLIP -> terminal.write(flipped(frame));
            case FRAGMENT -> sendByteByByte(frame);
            case SPLIT -> sendInTwo(frame);
        }
    }

    /** A plug may be pulled in the middle of a frame. */
    private void sendByteByByte(byte[] frame) throws IOException {
        for (byte each : frame) {
            synchronized (this) {
                if (!wantedPlugged) {
                    return;
                }
            }
            terminal.write(new byte[] {each});
            LockSupport.parkNanos(FRAGMENT_PAUSE_NANOS);
        }
    }

    private void sendInTwo(byte[] frame) throws IOException {
        cut = cut % frame.length + 1;
        terminal.write(Arrays.copyOf(frame, cut));
        LockSupport.parkNanos(SPLIT_PAUSE_NANOS);
        terminal.write(Arrays.copyOfRange(frame, cut, frame.length));
    }

    private byte[] flipped(byte[] frame) {
        byte[] wire = frame.clone();
        for (int bit = 0; bit < 8 * wire.length; bit++) {
            if (random.nextInt(100) < FLIPPED_PERCENT) {
                wire[bit / 8] ^= (byte) (1 << bit % 8);
            }
        }
        return wire;
    }

    /**
     * What is changed is changed into bytes above 127, which no device sends: a reader can tell.
     */
    private byte[] garbled(byte[] frame) {
        byte[] wire = frame.clone();
        switch (random.nextInt(4)) {
            case 0 -> wire[random.nextInt(wire.length)] = (byte) random.nextInt(128, 256);
            case 1 -> wire = Arrays.copyOf(wire, random.nextInt(wire.length));
            case 2 -> wire = joined(noise(), wire);
            default -> {
                // One in four comes through whole.
            }
        }
        return wire;
    }

    private byte[] noise() {
        byte[] noise = new byte[random.nextInt(1, 41)];
        random.nextBytes(noise);
        return noise;
    }

    private static byte[] joined(byte[] first, byte[] second) {
        byte[] both = Arrays.copyOf(first, first.length + second.length);
        System.arraycopy(second, 0, both, first.length, second.length);
        return both;
    }

    /** Brings the plug to where it is wanted; false when the line is to end. */
    private synchronized boolean settlePlug() throws IOException {
        if (wantedPlugged && terminal == null) {
            plug();
        } else if (!wantedPlugged && terminal != null) {
            terminal.close();
            terminal = null;
            if (link.isPresent()) {
                Files.deleteIfExists(link.get());
            }
        }
        notifyAll();
        return wantedRunning;
    }

    private void plug() throws IOException {
        PseudoTerminal fresh = new PseudoTerminal();
        if (link.isPresent()) {
            try {
                point(link.get(), fresh.path());
            } catch (IOException failure) {
                fresh.close();
                throw failure;
            }
        }
        terminal = fresh;
        path = link.orElse(fresh.path());
    }

    /**
     * Makes the link in one step, so that nobody ever finds half of it; replaces nothing but a
     * link.
     */
    private static void point(Path link, Path target) throws IOException {
        if (Files.exists(link, LinkOption.NOFOLLOW_LINKS) && !Files.isSymbolicLink(link)) {
            throw new IOException(
                    link + " is there already and is no link; choose another place for the link");
        }
        if (!Files.isDirectory(link.getParent())) {
            throw new IOException(
                    "there is no folder " + link.getParent() + " for the link; make it first");
        }
        Path fresh = link.resolveSibling(link.getFileName() + ".new");
        Files.deleteIfExists(fresh);
        Files.createSymbolicLink(fresh, target);
        Files.move(fresh, link, StandardCopyOption.ATOMIC_MOVE);
    }
}
