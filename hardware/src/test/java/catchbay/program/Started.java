package catchbay.program;

import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;

/**
 * The program as a process of its own, with the flags that are shipped, as {@code src/catchbay}
 * starts it: what it prints is read as it comes, and what a person would type is written to it.
 */
final class Started implements AutoCloseable {

    /** So long that only a program that hangs is given up, on a busy machine too. */
    private static final long PATIENCE_SECONDS = 90;

    private static final Path FLAGS = Path.of("../src/jvm.options").toAbsolutePath().normalize();

    private final List<String> command;
    private final Process process;
    private final Writer keyboard;
    private final List<String> output = new ArrayList<>();
    private final List<String> errors = new ArrayList<>();
    private final Thread outputReader;
    private final Thread errorReader;
    private int seen;

    /** How a process ended, and all that it printed. */
    record Ended(int code, List<String> output, List<String> errors) {}

    private Started(
            Path folder,
            Map<String, String> environment,
            ProcessBuilder.Redirect errorsTo,
            List<String> arguments)
            throws IOException {
        command =
                new ArrayList<>(
                        List.of(
                                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                                "@" + FLAGS,
                                "-cp",
                                classPath()));
        command.add("catchbay.app.Main");
        command.addAll(arguments);
        ProcessBuilder builder =
                new ProcessBuilder(command).directory(folder.toFile()).redirectError(errorsTo);
        builder.environment().putAll(environment);
        process = builder.start();
        keyboard = process.outputWriter(StandardCharsets.UTF_8);
        outputReader = reader(process.getInputStream(), output);
        errorReader = reader(process.getErrorStream(), errors);
    }

    /** Starts one command line in a folder. */
    static Started in(Path folder, String... arguments) throws IOException {
        return in(folder, Map.of(), arguments);
    }

    /** Starts one command line in a folder, with these variables in its environment. */
    static Started in(Path folder, Map<String, String> environment, String... arguments)
            throws IOException {
        return new Started(folder, environment, ProcessBuilder.Redirect.PIPE, List.of(arguments));
    }

    /** Starts one command line in a folder whose standard error goes elsewhere. */
    static Started in(Path folder, Path errorsTo, String... arguments) throws IOException {
        return new Started(
                folder,
                Map.of(),
                ProcessBuilder.Redirect.to(errorsTo.toFile()),
                List.of(arguments));
    }

    /** Runs one command line in a folder to its end; nothing is typed. */
    static Ended ran(Path folder, String... arguments) throws Exception {
        try (Started started = in(folder, arguments)) {
            started.keyboard.close();
            return started.ended();
        }
    }

    /** The program's own classes and libraries, without those of the tests. */
    private static String classPath() {
        return Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
                .filter(entry -> !entry.endsWith("test-classes") && !entry.endsWith("-tests.jar"))
                .collect(Collectors.joining(File.pathSeparator));
    }

    private Thread reader(InputStream from, List<String> into) {
        return Thread.ofPlatform()
                .daemon()
                .start(() -> {
                    try (BufferedReader lines =
                            new BufferedReader(
                                    new InputStreamReader(from, StandardCharsets.UTF_8))) {
                        for (String line = lines.readLine();
                                line != null;
                                line = lines.readLine()) {
                            synchronized (this) {
                                into.add(line);
                                notifyAll();
                            }
                        }
                    } catch (IOException gone) {
                        throw new UncheckedIOException(gone);
                    }
                });
    }

    /** Waits until standard error has a further line with this in it, and answers it. */
    synchronized String awaitError(String part) throws InterruptedException {
        return await(errors, part);
    }

    /** Waits until standard output has a further line with this in it, and answers it. */
    synchronized String awaitOutput(String part) throws InterruptedException {
        return await(output, part);
    }

    /** A process is awaited on one of its streams only, so one place in it is enough. */
    private String await(List<String> lines, String part) throws InterruptedException {
        long deadline = System.nanoTime() + TimeUnit.SECONDS.toNanos(PATIENCE_SECONDS);
        while (true) {
            while (seen < lines.size()) {
                String line = lines.get(seen++);
                if (line.contains(part)) {
                    return line;
                }
            }
            if (System.nanoTime() > deadline
                    || !process.isAlive() && seen == lines.size() && readersAreDone()) {
                throw new AssertionError("'" + part + "' did not come from " + this);
            }
            wait(50);
        }
    }

    private boolean readersAreDone() {
        return !outputReader.isAlive() && !errorReader.isAlive();
    }

    /** Types a line. */
    void type(String line) throws IOException {
        keyboard.write(line + "\n");
        keyboard.flush();
    }

    /** Asks the program to end, as a shutdown does (SIGTERM); what it says then is still read. */
    void terminate() {
        process.toHandle().destroy();
    }

    /** Ends it at once, as a power cut does (SIGKILL). */
    void kill() throws InterruptedException {
        process.toHandle().destroyForcibly();
        process.waitFor();
    }

    boolean isAlive() {
        return process.isAlive();
    }

    long pid() {
        return process.pid();
    }

    /** Waits for its end. */
    Ended ended() throws InterruptedException {
        if (!process.waitFor(PATIENCE_SECONDS, TimeUnit.SECONDS)) {
            throw new AssertionError("it does not end: " + this);
        }
        outputReader.join();
        errorReader.join();
        return new Ended(process.exitValue(), List.copyOf(output), List.copyOf(errors));
    }

    @Override
    public void close() {
        process.toHandle().destroyForcibly();
    }

    @Override
    public synchronized String toString() {
        return command.subList(4, command.size())
                + (process.isAlive() ? " (running)" : " (ended)")
                + "\n"
                + String.join("\n", output)
                + "\n--\n"
                + String.join("\n", errors);
    }
}
