using Releasekit.Server.Startup;

return await Service.Run(args);
