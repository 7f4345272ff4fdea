using Releasekit.Server.Startup;

return await ServiceProcess.Run(args);
