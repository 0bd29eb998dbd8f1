System.Console.WriteLine("benchmarks");
